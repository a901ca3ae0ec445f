// The requests by which a server without a disk asks the editor for files.

/** `{ uri }` to a `FileText`. */
export const readFileRequest = 'wattwright/readFile';

/** `{ uri, limit }` to the paths of all plant files below a folder. */
export const listPlantsRequest = 'wattwright/listPlants';
