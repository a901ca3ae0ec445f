// How the process of the language server is started: options of Node that can't be set any more once it runs.

/**
 * The young part of the heap would grow to three times 32 MB and more, which nothing needs: what an edit leaves behind is
 * gone within a few megabytes. Smaller than this, living values would be moved to the old part too soon.
 */
export const serverNodeOptions = ['--max-semi-space-size=16'];
