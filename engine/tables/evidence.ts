// How sure a tabulated number is: every table beside this file says where it comes from in these terms.

export type Evidence = 'seen in source' | 'from memory' | 'common practice, no source';

export type Citation = { readonly source: string; readonly evidence: Evidence };
