// What is to say about files whose tests notice less than they should, by file; the table of scores repeats it.

export const remarks: Readonly<Record<string, string>> = {};
