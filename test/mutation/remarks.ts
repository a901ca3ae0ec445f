// What is to say about files whose tests notice less than they should, or that nobody has scored for a reason, by file; the
// table of scores repeats it.

export const remarks: Readonly<Record<string, string>> = {
  'engine/checks/context.ts':
    'all tests of checks judge it; counted is what a dozen quick ones notice that use all of it together. What these missed: shortcuts that without their condition give the same more slowly, guards, and what ride-through curves alone ask.',
  'engine/checks/winding.ts':
    'what was missed guards against findings on converters that are not connected, of which there are none.',
};
