// Lulls: the server works on its own account only while the editor is silent.
import { later } from './turns.ts';

export interface Lull {
  /** The server ends: nothing more is to be done. */
  readonly over: boolean;
  /** The editor said something: it goes first. */
  heard(): void;
  /** Resolves once the editor is silent and no message waits; false where the server has ended. */
  turn(): Promise<boolean>;
  stop(): void;
}

/** Milliseconds without a word of the editor. */
const silence = 100;

export function createLull(): Lull {
  let lastHeard = 0;
  let over = false;
  const wait = () => lastHeard + silence - performance.now();
  return {
    get over() {
      return over;
    },
    heard: () => {
      lastHeard = performance.now();
    },
    turn: async () => {
      // A round of the event loop lets each message that waits go first.
      await new Promise<void>(later);
      for (let left = wait(); !over && left > 0; left = wait()) await new Promise(resolve => setTimeout(resolve, left));
      return !over;
    },
    stop: () => {
      over = true;
    },
  };
}
