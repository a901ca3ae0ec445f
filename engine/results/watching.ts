// While somebody looks at facts and values from outside: at which ones.
import { factWatch } from '../model/watched-facts.ts';
import type { Seen } from './quiet.ts';

export class Watching {
  /** The strips that were looked at so far, by number; undefined while nobody looks from outside. */
  strips: Set<number> | undefined;

  /** What looking comes to, and what was looked at for it. */
  during<T>(look: () => T): Seen & { readonly outcome: T } {
    const seen = new Set<number>();
    this.strips = seen;
    factWatch.start();
    try {
      const outcome = look();
      return { outcome, facts: factWatch.stop(), strips: [...seen] };
    } finally {
      this.strips = factWatch.seen = undefined;
    }
  }

  /**
   * What a computation looks at is kept with its outcome, and is no look from outside. Without a closure: one that
   * captures the arguments of a method costs at each of its calls.
   */
  apart<Owner, Args extends readonly unknown[], T>(
    owner: Owner,
    work: (this: Owner, ...args: Args) => T,
    ...args: Args
  ): T {
    const { strips } = this;
    const { seen } = factWatch;
    this.strips = factWatch.seen = undefined;
    try {
      return work.apply(owner, args as Args & unknown[]);
    } finally {
      this.strips = strips;
      factWatch.seen = seen;
    }
  }
}
