// What a feature works with: one file, its tree, and the analysis of exactly that text.
import type { Analysis, WorkspacePath } from '../../engine/analysis.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import type { Closure } from '../sources.ts';
import type { DerivationLink } from './markdown.ts';

/** What can be told from the text alone. */
export interface TreeContext {
  readonly path: WorkspacePath;
  readonly tree: SourceTree;
  readonly closure: Closure;
}

export interface FileContext extends TreeContext {
  readonly analysis: Analysis;
  readonly link: DerivationLink;
  /** The address of a page of the reference, such as `kinds/battery.md`, where the editor can show it. */
  readonly page?: (page: string) => string | undefined;
}
