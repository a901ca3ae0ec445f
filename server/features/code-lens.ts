// Code lens: above each component its worst margin and how many findings speak of it; at most one line a component.
import type { Finding } from '../../engine/finding.ts';
import { kindByName } from '../../engine/kinds/index.ts';
import { count, describeCounts } from '../findings.ts';
import type { FileContext } from './context.ts';
import { margins } from './main-results.ts';
import { entitiesOf } from './symbols.ts';

export interface Lens {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** The value whose derivation it leads to. */
  readonly name: string | undefined;
}

export function codeLenses({ path, tree, analysis }: FileContext): readonly Lens[] {
  return entitiesOf(path, tree).flatMap(({ start, declaration }) => {
    const { name } = declaration;
    if (name === undefined) return [];
    const margin = worstMargin(name.text, declaration.kind.text, analysis.values);
    const about = analysis.findings.filter(finding => finding.subject === name.text && matters(finding));
    const words = [margin?.text, about.length === 0 ? undefined : described(about)].filter(Boolean);
    if (words.length === 0) return [];
    const span = { start: start + name.start, end: start + name.end };
    return [{ ...span, text: words.join(', '), name: margin?.name ?? about.find(({ value }) => value)?.value?.name }];
  });
}

/** A hazard is named in words: a colour alone not everybody sees. */
function described(about: readonly Finding[]): string {
  const hazards = about.filter(({ hazard }) => hazard).length;
  const number = hazards === 1 ? 'a hazard' : `${hazards} hazards`;
  return describeCounts(count(about)) + (hazards === 0 ? '' : `, among them ${number}`);
}

/** Notes and hints are on their lines; up here they would only be noise. */
function matters({ severity }: Finding): boolean {
  return severity === 'error' || severity === 'warning';
}

type Values = FileContext['analysis']['values'];

function worstMargin(tag: string, kindName: string, values: Values): { text: string; name: string } | undefined {
  const kind = kindByName.get(kindName)?.name;
  const [least] = (kind === undefined ? [] : (margins[kind] ?? []))
    .flatMap(result => values.worst(`${tag}.${result}`) ?? [])
    .flatMap(({ name, display, value }) => (value === undefined ? [] : [{ name, display, value }]))
    .toSorted((a, b) => a.value - b.value);
  if (least === undefined) return undefined;
  const words = least.name.slice(tag.length + 1).replaceAll('_', ' ');
  return { text: `${words} ${least.display}`, name: least.name };
}
