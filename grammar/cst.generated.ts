// Types of the concrete syntax tree, generated from the rules in parser.ts: run its test with -u to renew them.

import type { CstNode, IToken } from "chevrotain";


export interface ChunkCstNode extends CstNode {
  name: "chunk";
  children: ChunkCstChildren;
}

export type ChunkCstChildren = {
  use?: UseCstNode[];
  let?: LetCstNode[];
  catalogue?: CatalogueCstNode[];
  connect?: ConnectCstNode[];
  case?: CaseCstNode[];
  require?: RequireCstNode[];
  accept?: AcceptCstNode[];
  entity?: EntityCstNode[];
  Leftover?: (IToken)[];
  Separator?: IToken[];
  block?: BlockCstNode[];
};

export interface EntityCstNode extends CstNode {
  name: "entity";
  children: EntityCstChildren;
}

export type EntityCstChildren = {
  PartWord?: IToken[];
  kind?: IToken[];
  name?: IToken[];
  base?: BaseCstNode[];
  blocks: BlocksCstNode[];
};

export interface BaseCstNode extends CstNode {
  name: "base";
  children: BaseCstChildren;
}

export type BaseCstChildren = {
  IsWord: IToken[];
  PickWord?: IToken[];
  path?: PathCstNode[];
};

export interface UseCstNode extends CstNode {
  name: "use";
  children: UseCstChildren;
}

export type UseCstChildren = {
  UseWord: IToken[];
  Text?: IToken[];
  AsWord?: IToken[];
  alias?: IToken[];
  blocks: BlocksCstNode[];
};

export interface LetCstNode extends CstNode {
  name: "let";
  children: LetCstChildren;
}

export type LetCstChildren = {
  LetWord: IToken[];
  name?: IToken[];
  Equals?: IToken[];
  expression?: ExpressionCstNode[];
  clause?: ClauseCstNode[];
  blocks: BlocksCstNode[];
};

export interface CatalogueCstNode extends CstNode {
  name: "catalogue";
  children: CatalogueCstChildren;
}

export type CatalogueCstChildren = {
  CatalogueWord: IToken[];
  kind?: IToken[];
  name?: IToken[];
  FromWord?: IToken[];
  Text?: IToken[];
  blocks: BlocksCstNode[];
};

export interface ConnectCstNode extends CstNode {
  name: "connect";
  children: ConnectCstChildren;
}

export type ConnectCstChildren = {
  ConnectWord: IToken[];
  item?: (IToken)[];
  blocks: BlocksCstNode[];
};

export interface CaseCstNode extends CstNode {
  name: "case";
  children: CaseCstChildren;
}

export type CaseCstChildren = {
  CaseWord: IToken[];
  name?: IToken[];
  IsWord?: IToken[];
  item?: (IToken)[];
  blocks: BlocksCstNode[];
};

export interface RequireCstNode extends CstNode {
  name: "require";
  children: RequireCstChildren;
}

export type RequireCstChildren = {
  RequireWord: IToken[];
  name?: IToken[];
  Colon?: IToken[];
  expression?: (ExpressionCstNode)[];
  during?: (DuringCstNode)[];
  because?: BecauseCstNode[];
  blocks: BlocksCstNode[];
};

export interface DuringCstNode extends CstNode {
  name: "during";
  children: DuringCstChildren;
}

export type DuringCstChildren = {
  DuringWord: IToken[];
  Tag?: IToken[];
};

export interface BecauseCstNode extends CstNode {
  name: "because";
  children: BecauseCstChildren;
}

export type BecauseCstChildren = {
  BecauseWord: IToken[];
  Text?: IToken[];
};

export interface AcceptCstNode extends CstNode {
  name: "accept";
  children: AcceptCstChildren;
}

export type AcceptCstChildren = {
  AcceptWord: IToken[];
  code?: IToken[];
  OnWord?: IToken[];
  tag?: IToken[];
  bound?: BoundCstNode[];
  UntilWord?: IToken[];
  DateWord?: IToken[];
  because?: BecauseCstNode[];
  blocks: BlocksCstNode[];
};

export interface BoundCstNode extends CstNode {
  name: "bound";
  children: BoundCstChildren;
}

export type BoundCstChildren = {
  direction?: (IToken)[];
  ToWord?: IToken[];
  expression?: ExpressionCstNode[];
};

export interface BlocksCstNode extends CstNode {
  name: "blocks";
  children: BlocksCstChildren;
}

export type BlocksCstChildren = {
  Leftover?: (IToken)[];
  block?: BlockCstNode[];
};

export interface BlockCstNode extends CstNode {
  name: "block";
  children: BlockCstChildren;
}

export type BlockCstChildren = {
  BlockOpen: IToken[];
  Separator?: IToken[];
  property?: PropertyCstNode[];
  BlockClose: IToken[];
};

export interface PropertyCstNode extends CstNode {
  name: "property";
  children: PropertyCstChildren;
}

export type PropertyCstChildren = {
  path?: PathCstNode[];
  Equals?: IToken[];
  expression?: ExpressionCstNode[];
  clause?: ClauseCstNode[];
  blocks?: BlocksCstNode[];
};

export interface PathCstNode extends CstNode {
  name: "path";
  children: PathCstChildren;
}

export type PathCstChildren = {
  AnyName: (IToken)[];
  Dot?: IToken[];
};

export interface ClauseCstNode extends CstNode {
  name: "clause";
  children: ClauseCstChildren;
}

export type ClauseCstChildren = {
  word?: (IToken)[];
  expression?: ExpressionCstNode[];
};

export interface ExpressionCstNode extends CstNode {
  name: "expression";
  children: ExpressionCstChildren;
}

export type ExpressionCstChildren = {
  item?: (OperandCstNode | IToken)[];
};

export interface OperandCstNode extends CstNode {
  name: "operand";
  children: OperandCstChildren;
}

export type OperandCstChildren = {
  NumberWord?: IToken[];
  Unit?: IToken[];
  Text?: IToken[];
  reference?: ReferenceCstNode[];
  parentheses?: (ParenthesesCstNode)[];
  curve?: CurveCstNode[];
  PickWord?: IToken[];
  FromWord?: IToken[];
};

export interface ReferenceCstNode extends CstNode {
  name: "reference";
  children: ReferenceCstChildren;
}

export type ReferenceCstChildren = {
  AnyName: (IToken)[];
  Dot?: IToken[];
};

export interface ParenthesesCstNode extends CstNode {
  name: "parentheses";
  children: ParenthesesCstChildren;
}

export type ParenthesesCstChildren = {
  Open: IToken[];
  item?: (ExpressionCstNode | IToken)[];
  Leftover?: IToken[];
  Close: IToken[];
};

export interface CurveCstNode extends CstNode {
  name: "curve";
  children: CurveCstChildren;
}

export type CurveCstChildren = {
  CurveWord: IToken[];
  heading?: (IToken)[];
  points?: PointsCstNode[];
};

export interface PointsCstNode extends CstNode {
  name: "points";
  children: PointsCstChildren;
}

export type PointsCstChildren = {
  CurveOpen: IToken[];
  CurveItem?: (IToken)[];
  CurveClose: IToken[];
};
