// The requests by which the server asks the editor for files: one without a disk for all, any for committed ones.

/** `{ uri }` to a `FileText`. */
export const readFileRequest = 'wattwright/readFile';

/** `{ uri, limit }` to the paths of all plant files below a folder. */
export const listPlantsRequest = 'wattwright/listPlants';

/** `{ uri }` to a `FileText`: the file as it stands in the last commit. */
export const committedTextRequest = 'wattwright/committedText';
