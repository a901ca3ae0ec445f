// Rehearses what an author does next, while the editor asks for nothing: code that has run some hundred times runs several
// times as fast, and without this the first edits of a session would be its slowest.
import type { Lull } from './lull.ts';
import type { Spot, Stage } from './rehearsal-stage.ts';

export interface Rehearsal {
  /** The editor has its first findings. */
  begin(): void;
}

/** Milliseconds of work, once for each process: about as long as it goes on paying. */
const longest = 2000;

/** After so many numbers comes what an editor asks for when the author pauses. */
const betweenPauses = 32;

export interface RehearsalLog {
  debug(message: string): void;
  error(message: string): void;
}

export function createRehearsal(open: () => Promise<Stage>, lull: Lull, log: RehearsalLog): Rehearsal {
  let begun = false;

  const play = async (): Promise<void> => {
    if (!(await lull.turn())) return;
    const stage = await open();
    let [spent, played] = [0, 0];
    for (const act of acts(stage)) {
      if (!(await lull.turn()) || spent > longest) break;
      const started = performance.now();
      await act();
      spent += performance.now() - started;
      played += 1;
    }
    await stage.close();
    // A connection that ends takes no more.
    if (lull.over) return;
    if (stage.complaints.length > 0) throw new Error(stage.complaints[0]);
    log.debug(`Rehearsed ${played} times, ${Math.round(spent)} ms`);
  };

  return {
    begin: () => {
      if (begun || lull.over) return;
      begun = true;
      // It has these to show now.
      lull.heard();
      play().catch((error: unknown) => log.error(`The rehearsal failed: ${error}`));
    },
  };
}

/**
 * One number after the other is changed and put right again: by turns in its digits, which no parser reads, and by a blank
 * behind them.
 */
function* acts(stage: Stage): Generator<() => Promise<unknown>> {
  yield () => stage.open();
  for (let round = 0; ; round++) {
    const spot = stage.numbers[round % stage.numbers.length]!;
    const inDigits = round % 2 === 0;
    yield () => stage.edit(spot, inDigits ? String((Number(spot.digit) + 1) % 10) : `${spot.digit} `);
    yield () => stage.hover(stage.names[round % stage.names.length]!);
    yield () => (inDigits ? stage.edit(spot, spot.digit) : stage.edit(behind(spot), ''));
    if (round % betweenPauses === 0) {
      yield () => stage.complete();
      yield () => stage.pause();
    }
  }
}

function behind({ at }: Spot): Spot {
  return { at: { ...at, character: at.character + 1 }, digit: ' ' };
}
