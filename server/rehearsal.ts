// Rehearses what an author does next, while the editor asks for nothing: code that has run some hundred times runs several
// times as fast, and without this the first edits of a session would be its slowest.
import type { Connection } from 'vscode-languageserver';
import { type Environment, emptyEnvironment } from './addresses.ts';
import { openStage, type Stage } from './rehearsal-stage.ts';
import { startServer } from './server.ts';
import { later } from './turns.ts';

export interface Rehearsal {
  /** The editor has its first findings. */
  begin(): void;
  /** The editor said something: it goes first. */
  heard(): void;
  stop(): void;
}

/** Milliseconds without a word of the editor. */
const quiet = 100;

/** Milliseconds of work, once for each process: about as long as it goes on paying. */
const longest = 2000;

/** After so many numbers comes what an editor asks for when the author pauses. */
const betweenPauses = 32;

/** A server that rehearses; gives back what is to be called with each message of the editor. */
export function startRehearsed(connection: Connection, environment: Environment): () => void {
  const rehearsal = createRehearsal(() => openStage(stage => startServer(stage, emptyEnvironment)), connection.console);
  startServer(connection, environment, rehearsal);
  return rehearsal.heard;
}

export interface RehearsalLog {
  debug(message: string): void;
  error(message: string): void;
}

export function createRehearsal(open: () => Promise<Stage>, log: RehearsalLog): Rehearsal {
  let lastHeard = 0;
  let begun = false;
  let over = false;

  /** A round of the event loop lets each message that waits go first. */
  const turn = async (): Promise<void> => {
    await new Promise<void>(later);
    for (let left = wait(); !over && left > 0; left = wait()) await new Promise(resolve => setTimeout(resolve, left));
  };
  const wait = () => lastHeard + quiet - performance.now();

  const play = async (): Promise<void> => {
    await turn();
    if (over) return;
    const stage = await open();
    let [spent, played] = [0, 0];
    for (const act of acts(stage)) {
      await turn();
      if (over || spent > longest) break;
      const started = performance.now();
      await act();
      spent += performance.now() - started;
      played += 1;
    }
    await stage.close();
    // A connection that ends takes no more.
    if (over) return;
    if (stage.complaints.length > 0) throw new Error(stage.complaints[0]);
    log.debug(`Rehearsed ${played} times, ${Math.round(spent)} ms`);
  };

  return {
    begin: () => {
      if (begun || over) return;
      begun = true;
      lastHeard = performance.now();
      play().catch((error: unknown) => log.error(`The rehearsal failed: ${error}`));
    },
    heard: () => {
      lastHeard = performance.now();
    },
    stop: () => {
      over = true;
    },
  };
}

/** One number after the other is changed and put right again. */
function* acts(stage: Stage): Generator<() => Promise<unknown>> {
  yield () => stage.open();
  for (let round = 0; ; round++) {
    const spot = stage.numbers[round % stage.numbers.length]!;
    yield () => stage.edit(spot, String((Number(spot.digit) + 1) % 10));
    yield () => stage.hover(stage.names[round % stage.names.length]!);
    yield () => stage.edit(spot, spot.digit);
    if (round % betweenPauses === 0) {
      yield () => stage.complete();
      yield () => stage.pause();
    }
  }
}
