// What a file declares, for outlines and symbol search.
import type { Declaration, Name, Span } from '../../grammar/ast.ts';
import type { OutlineEntry } from '../analysis.ts';
import { kindByName } from '../kinds/index.ts';
import { type FileScope, type Placed, placeOf } from './scope.ts';

export function outlineOf(scope: Pick<FileScope, 'declarations'>): readonly OutlineEntry[] {
  return scope.declarations.flatMap(placed => entryOf(placed) ?? []);
}

function entryOf(placed: Placed<Declaration>): OutlineEntry | undefined {
  const { node } = placed;
  switch (node.type) {
    case 'entity': {
      const kind = kindByName.get(node.kind.text);
      const base =
        node.base === undefined
          ? ''
          : ` is ${node.base.pick ? 'pick ' : ''}${node.base.path.map(name => name.text).join('.')}`;
      return entry(placed, node.name, node.part ? 'part' : (kind?.name ?? 'part'), `${node.kind.text}${base}`);
    }
    case 'let':
      return entry(placed, node.name, 'let', 'let');
    case 'catalogue':
      return entry(placed, node.name, 'catalogue', `catalogue of ${node.kind?.text ?? '?'}`);
    case 'case':
      return entry(placed, node.name, 'case', 'case');
    case 'use':
      return node.path === undefined ? undefined : entry(placed, { ...node.path, text: node.path.value }, 'use', 'use');
    case 'connect':
      return node.chain[0] === undefined
        ? undefined
        : entry(placed, spanOf(node.chain, node.chain.map(name => name.text).join(' -> ')), 'connect', 'connect');
    case 'require':
      return node.condition === undefined
        ? undefined
        : entry(placed, node.name ?? { ...node.condition, text: 'require' }, 'require', 'require');
    case 'accept':
      return node.code === undefined
        ? undefined
        : entry(placed, { ...node.code, text: `${node.code.text} on ${node.tag?.text ?? '?'}` }, 'accept', 'accept');
  }
}

function entry(
  placed: Placed<Declaration>,
  name: (Span & { readonly text: string }) | undefined,
  kind: OutlineEntry['kind'],
  detail: string,
): OutlineEntry | undefined {
  if (name === undefined || name.text === '') return undefined;
  return { name: name.text, kind, detail, place: placeOf(placed, placed.node), nameplace: placeOf(placed, name) };
}

function spanOf(names: readonly Name[], text: string): Name {
  return { text, start: names[0]!.start, end: names.at(-1)!.end };
}
