// Takes turns with the message loop: one piece of work at a time, and only once the messages that wait have been read.
//
// A burst of edits lies in the queue as many messages. Work that was asked for by the first is put off as long as
// further ones come in, so only the last text is ever looked at.

export interface Turns<Key> {
  /** Asks for a piece of work; asking twice gives one. With `pause`, only after as many milliseconds of quiet. */
  add(key: Key, options?: { readonly first?: boolean; readonly pause?: number }): void;
  remove(key: Key): void;
  stop(): void;
}

/**
 * Rounds of the message loop: what comes along with an edit, such as a question for completion, is read in them and needs
 * not wait for the analysis. A timer would take a whole millisecond.
 */
const roundsBefore = 3;

export function createTurns<Key>(work: (key: Key) => void): Turns<Key> {
  const queue = new Set<Key>();
  /** Of the queue what goes before the rest, the latest foremost. */
  const foremost = new Set<Key>();
  const paused = new Map<Key, ReturnType<typeof setTimeout>>();
  let asked = 0;
  let scheduled = false;
  let stopped = false;

  const schedule = (): void => {
    if (scheduled || stopped || queue.size === 0) return;
    scheduled = true;
    const before = asked;
    afterRounds(roundsBefore, () => takeTurn(before));
  };

  const takeTurn = (before: number): void => {
    scheduled = false;
    if (asked === before && !stopped) {
      const [next] = queue;
      const key = [...foremost].at(-1) ?? next;
      if (key !== undefined) {
        foremost.delete(key);
        queue.delete(key);
        work(key);
      }
    }
    schedule();
  };

  const enqueue = (key: Key, first: boolean): void => {
    asked += 1;
    // Nothing here may take longer with a longer queue: a renaming opens and changes a thousand files at once.
    if (first) {
      foremost.delete(key);
      foremost.add(key);
    }
    queue.add(key);
    schedule();
  };

  const remove = (key: Key): void => {
    queue.delete(key);
    foremost.delete(key);
    clearTimeout(paused.get(key));
    paused.delete(key);
  };

  return {
    add: (key, { first = false, pause = 0 } = {}) => {
      if (stopped) return;
      if (pause === 0) {
        clearTimeout(paused.get(key));
        paused.delete(key);
        return enqueue(key, first);
      }
      remove(key);
      const timer = setTimeout(() => {
        paused.delete(key);
        enqueue(key, first);
      }, pause);
      paused.set(key, timer);
    },
    remove,
    stop: () => {
      stopped = true;
      for (const key of [...queue, ...paused.keys()]) remove(key);
    },
  };
}

function afterRounds(count: number, next: () => void): void {
  later(count === 1 ? next : () => afterRounds(count - 1, next));
}

/** Runs something after the messages that have arrived: the next round of the event loop, also in a browser's worker. */
export const later: (next: () => void) => void =
  typeof setImmediate === 'function' ? next => void setImmediate(next) : next => void setTimeout(next, 0);
