// One object of each layout that otherwise lives no longer than a parse or an analysis.
//
// V8 forgets a layout at a full collection that finds no object of it, and throws away whatever it compiled for it. Such a
// collection comes with every pause of an author, and the edits after it would wait for the code to be compiled again.
// Object literals need none: V8 keeps a pattern of each, unless something is spread into it.

interface Exemplars {
  syntax?: unknown;
  lowering?: unknown;
  check?: unknown;
  limit?: unknown;
}

const none: Exemplars = { syntax: undefined, lowering: undefined, check: undefined, limit: undefined };

/** The latest of each. */
export const exemplars: Exemplars = { ...none };

/** They hold what they were made of: a whole plant, which nobody may need any more. */
export function forgetExemplars(): void {
  Object.assign(exemplars, none);
}
