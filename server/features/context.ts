// What a feature works with: one file, its tree, and the analysis of exactly that text.
import type { Analysis, WorkspacePath } from '../../engine/analysis.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import type { Closure } from '../sources.ts';
import type { DerivationLink } from './markdown.ts';

export interface FileContext {
  readonly path: WorkspacePath;
  readonly tree: SourceTree;
  readonly analysis: Analysis;
  readonly closure: Closure;
  readonly link: DerivationLink;
}
