// What stands at a place in the text: the smallest thing there that has a meaning of its own.
import type {
  Declaration,
  EntityDeclaration,
  Expression,
  Name,
  NumberLiteral,
  PlacedChunk,
  Property,
  SourceTree,
  Span,
} from '../../grammar/ast.ts';

/** Spans count from the start of the file here. */
export interface Spot {
  readonly start: number;
  readonly end: number;
  readonly thing: Thing;
  /** Where the text of the declaration begins. */
  readonly chunk: number;
}

export type Thing =
  | { readonly type: 'kind'; readonly word: string }
  /** The tag of a component or the name of a part where it is declared. */
  | { readonly type: 'declared'; readonly declaration: Declaration; readonly name: string }
  | { readonly type: 'tag'; readonly name: string }
  | { readonly type: 'case'; readonly name: string }
  | { readonly type: 'code'; readonly word: string }
  /** `owner` is the tag in a case, else the declaration around it. */
  | { readonly type: 'property'; readonly property: Property; readonly name: string; readonly owner: Owner }
  /** A row of a catalogue where it is declared; `path` is how a component names it. */
  | { readonly type: 'row'; readonly path: string }
  /** What a curve depends on: `soc`. */
  | { readonly type: 'axis'; readonly within: Within }
  /** A number with its unit, where it has one. */
  | { readonly type: 'number'; readonly literal: NumberLiteral; readonly within: Within }
  | { readonly type: 'reference'; readonly path: readonly string[]; readonly index: number; readonly within: Within };

export type Owner = { readonly tag: string } | { readonly kind: string; readonly declaration: Declaration };

export type Within =
  | { readonly type: 'require' | 'let' | 'base' }
  | { readonly type: 'property'; readonly property: Property; readonly name: string; readonly owner: Owner };

export function locate(tree: SourceTree, offset: number): Spot | undefined {
  const placed = chunkAt(tree, offset);
  const declaration = placed?.chunk.declaration;
  if (placed === undefined || declaration === undefined) return undefined;
  const found = inDeclaration(declaration, offset - placed.start);
  const { start: chunk } = placed;
  return found && { start: found.span.start + chunk, end: found.span.end + chunk, thing: found.thing, chunk };
}

/** The chunk around an offset; at a border the one that begins there. */
export function chunkAt(tree: SourceTree, offset: number): PlacedChunk | undefined {
  let low = 0;
  let high = tree.chunks.length;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (tree.chunks[middle]!.start <= offset) low = middle;
    else high = middle;
  }
  return tree.chunks[low];
}

interface Found {
  readonly span: Span;
  readonly thing: Thing;
}

function inDeclaration(declaration: Declaration, at: number): Found | undefined {
  switch (declaration.type) {
    case 'entity':
      return inEntity(declaration, at);
    case 'catalogue':
      return (
        on(declaration.kind, at, kind => ({ type: 'kind', word: kind.text })) ??
        on(declaration.name, at, name => ({ type: 'declared', declaration, name: name.text })) ??
        first(
          declaration.rows,
          row =>
            on(row.name, at, ({ text }) => ({ type: 'row', path: `${declaration.name?.text}.${text}` })) ??
            inProperties(row.properties, { kind: declaration.kind?.text ?? '', declaration }, at),
        )
      );
    case 'connect':
      return first(declaration.chain, name => on(name, at, () => ({ type: 'tag', name: name.text })));
    case 'case':
      return (
        on(declaration.name, at, name => ({ type: 'case', name: name.text })) ??
        first(declaration.bases, base => on(base, at, name => ({ type: 'case', name: name.text }))) ??
        first(declaration.properties, property => inRestated(property, at))
      );
    case 'require':
      return (
        on(declaration.during, at, name => ({ type: 'tag', name: name.text })) ??
        inExpression(declaration.condition, { type: 'require' }, at)
      );
    case 'accept':
      return (
        on(declaration.code, at, code => ({ type: 'code', word: code.text })) ??
        on(declaration.tag, at, tag => ({ type: 'tag', name: tag.text })) ??
        inExpression(declaration.bound, { type: 'require' }, at)
      );
    case 'let':
      return (
        on(declaration.name, at, name => ({ type: 'declared', declaration, name: name.text })) ??
        inExpression(declaration.value, { type: 'let' }, at)
      );
    case 'use':
      return undefined;
  }
}

function inEntity(declaration: EntityDeclaration, at: number): Found | undefined {
  const { kind, name, base, properties } = declaration;
  return (
    on(kind, at, () => ({ type: 'kind', word: kind.text })) ??
    on(name, at, ({ text }) => ({ type: 'declared', declaration, name: text })) ??
    (base && inPath(base.path, { type: 'base' }, at)) ??
    inProperties(properties, { kind: kind.text, declaration }, at)
  );
}

function inProperties(properties: readonly Property[], owner: Owner, at: number): Found | undefined {
  return first(properties, property => {
    const [target] = property.target;
    return (
      on(target, at, ({ text }) => ({ type: 'property', property, name: text, owner })) ??
      inValue(property, target?.text ?? '', owner, at)
    );
  });
}

/** `B1.temperature = …` in a case. */
function inRestated(property: Property, at: number): Found | undefined {
  const [tag, name] = property.target;
  const owner: Owner = { tag: tag?.text ?? '' };
  return (
    on(tag, at, ({ text }) => ({ type: 'tag', name: text })) ??
    on(name, at, ({ text }) => ({ type: 'property', property, name: text, owner })) ??
    inValue(property, name?.text ?? '', owner, at)
  );
}

function inValue(property: Property, name: string, owner: Owner, at: number): Found | undefined {
  const within: Within = { type: 'property', property, name, owner };
  return (
    inExpression(property.value, within, at) ??
    first(property.clauses, clause => inExpression(clause.value, within, at))
  );
}

function inExpression(expression: Expression | undefined, within: Within, at: number): Found | undefined {
  if (expression === undefined || !contains(expression, at)) return undefined;
  if (expression.type === 'reference') return inPath(expression.path, within, at);
  if (expression.type === 'number') return on(expression, at, literal => ({ type: 'number', literal, within }));
  const axis = expression.type === 'curve' ? expression.axes.find(name => contains(name, at)) : undefined;
  if (axis !== undefined) return { span: axis, thing: { type: 'axis', within } };
  return first(childrenOf(expression), child => inExpression(child, within, at));
}

/** The expressions directly inside of one. */
export function childrenOf(expression: Expression): readonly Expression[] {
  switch (expression.type) {
    case 'range':
      return [expression.low, expression.high];
    case 'tolerance':
      return [expression.nominal, expression.plus, expression.minus];
    case 'call':
      return expression.arguments;
    case 'binary':
    case 'compare':
      return [expression.left, expression.right];
    case 'negate':
      return [expression.operand];
    case 'group':
      return [expression.inner];
    case 'curve':
      return [...(expression.columns ?? []), ...expression.rows.flatMap(row => [row.x, ...row.y])];
    case 'pick':
      return expression.from ?? [];
    default:
      return [];
  }
}

function inPath(path: readonly Name[], within: Within, at: number): Found | undefined {
  const index = path.findIndex(name => contains(name, at));
  const name = path[index];
  if (name === undefined) return undefined;
  return { span: name, thing: { type: 'reference', path: path.map(({ text }) => text), index, within } };
}

function on<N extends Span>(node: N | undefined, at: number, thing: (node: N) => Thing): Found | undefined {
  return node !== undefined && contains(node, at) ? { span: node, thing: thing(node) } : undefined;
}

/** The end counts too: the cursor behind a word is still at it. */
function contains(span: Span, at: number): boolean {
  return span.start <= at && at <= span.end;
}

function first<T>(items: readonly T[], find: (item: T) => Found | undefined): Found | undefined {
  for (const item of items) {
    const found = find(item);
    if (found !== undefined) return found;
  }
  return undefined;
}
