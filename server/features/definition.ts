// Go to definition: from a tag, a part or a `use` to where it is written.
import type { Place } from '../../engine/finding.ts';
import { usedPaths } from '../../engine/model/paths.ts';
import type { FileContext } from './context.ts';
import { locate } from './locate.ts';
import { type Declared, entityByTag, visibleFrom } from './symbols.ts';

export function definition(context: FileContext, offset: number): Place | undefined {
  const { path, tree, closure } = context;
  const used = usedPaths(path, tree).find(({ place }) => place.start <= offset && offset <= place.end);
  if (used?.target !== undefined) return { path: used.target, start: 0, end: 0 };
  const thing = locate(tree, offset)?.thing;
  if (thing?.type === 'tag' || thing?.type === 'declared') return placeOf(entityByTag(path, tree, thing.name));
  if (thing?.type !== 'reference') return undefined;
  const [head = ''] = thing.path;
  const component = entityByTag(path, tree, head);
  if (component !== undefined) return placeOf(component);
  const visible = visibleFrom(path, tree, closure);
  const named = visible.findLast(({ written }) => thing.path.join('.').startsWith(written));
  return placeOf(named?.declared);
}

function placeOf(declared: Declared | undefined): Place | undefined {
  if (declared === undefined) return undefined;
  const { path, start, declaration } = declared;
  const name = 'name' in declaration ? declaration.name : undefined;
  const span = name ?? declaration;
  return { path, start: start + span.start, end: start + span.end };
}
