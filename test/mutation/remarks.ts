// What is to say about files whose tests notice less than they should, or that nobody has scored for a reason, by file; the
// table of scores repeats it.

export const remarks: Readonly<Record<string, string>> = {
  'engine/checks/context.ts': 'not scored, because all tests of checks judge it.',
};
