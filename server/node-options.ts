// How the process of the language server is started: options of Node that can't be set any more once it runs.

/**
 * The young part of the heap, MB. It would grow to three times 32 MB and more, which nothing needs: what an edit leaves
 * behind is gone within a few megabytes. Smaller than this, living values would be moved to the old part too soon. Nor
 * does it begin smaller: what the first analysis makes mostly stays, and would be moved about while it grows.
 */
const semiSpace = 16;

export const serverNodeOptions = [`--min-semi-space-size=${semiSpace}`, `--max-semi-space-size=${semiSpace}`];
