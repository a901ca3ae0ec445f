// Tells the author that something takes longer than a moment; silent about everything else.
import type { Connection } from 'vscode-languageserver';
import type { ClientWishes } from './wishes.ts';

/** Milliseconds: work that takes longer is shown. */
export const longWork = 300;

/** Shows a line until what it gives is called. Resolves when the editor has it, or does not answer in time. */
export type Announce = (what: string) => Promise<() => void>;

interface Listener {
  readonly wishes: ClientWishes;
  readonly stopped: boolean;
}

export function createAnnounce(connection: Connection, session: Listener): Announce {
  return async what => {
    if (session.stopped || !session.wishes.showsProgress) return () => {};
    const reporter = connection.window.createWorkDoneProgress().then(shown => {
      shown.begin(what);
      return shown;
    });
    // Never in the way of the work itself.
    await Promise.race([reporter, pause(longWork)]).catch(() => {});
    return () => {
      reporter.then(shown => shown.done()).catch(() => {});
    };
  };
}

/** Work that goes on beside others: announced once it turns out to be long. */
export async function announced<T>(announce: Announce, what: string, work: Promise<T>): Promise<T> {
  let done: Promise<() => void> | undefined;
  const timer = setTimeout(() => {
    done = announce(what);
  }, longWork);
  try {
    return await work;
  } finally {
    clearTimeout(timer);
    void done?.then(end => end());
  }
}

function pause(milliseconds: number): Promise<void> {
  return new Promise(resolve => setTimeout(resolve, milliseconds));
}
