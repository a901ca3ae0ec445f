// Every value of the plant, to choose one from: those of the component at the cursor first.
import type { FileContext } from './context.ts';
import { namesIn } from './occurrences.ts';
import { namedAt } from './references.ts';
import { entitiesOf } from './symbols.ts';

export interface ListedValue {
  readonly name: string;
  readonly display: string;
  readonly meaning: string;
}

/** `offset` is the cursor's; undefined where there is none. */
export function listedValues(context: FileContext, offset?: number): readonly ListedValue[] {
  const { values } = context.analysis;
  const tag = offset === undefined ? undefined : tagAt(context, offset);
  const here = (name: string) => Number(tag !== undefined && name.startsWith(`${tag}.`));
  return values.names
    .toSorted((a, b) => here(b) - here(a))
    .map(name => {
      const row = values.worst(name);
      return { name, display: row?.display ?? '', meaning: row?.meaning ?? '' };
    });
}

/** The component that the cursor names, as in a chain, or in whose block it stands. */
function tagAt({ path, tree, closure }: FileContext, offset: number): string | undefined {
  const around = entitiesOf(path, tree).find(({ start, declaration }) => {
    return start + declaration.start <= offset && offset <= start + declaration.end;
  });
  const named = namedAt(namesIn(closure.snapshot), path, offset)?.named;
  return around?.declaration.name?.text ?? named?.owner?.name ?? named?.name;
}
