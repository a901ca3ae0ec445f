// In words: what is wrong with a ride-through curve, and which parts of ride-through a plant's facts leave unchecked.
import type { Plant } from '../model/plant.ts';
import type { EnvelopeProblem } from '../physics/ride-through.ts';
import { type EnvelopeProperty, envelopes } from '../results/envelope.ts';
import { listed, without } from './not-checked.ts';

const words: Readonly<Record<EnvelopeProblem['problem'], string>> = {
  too_few: 'it has no point',
  not_finite: 'one of its numbers is none',
  negative: 'a level lies below zero',
  late_start: 'it must begin at 0 s, with the level that may stand at once',
  order: 'its times go back',
  triple_step: 'three points stand at one time',
  turns: 'a longer disturbance never goes farther than a shorter one, and here it would',
};

export function wrongCurve(problems: readonly EnvelopeProblem[]): string {
  return [...new Set(problems.map(({ problem }) => words[problem]))].join('; ');
}

/** Nothing where neither a network nor a converter says anything of ride-through. */
export function rideThroughLeftOut(plant: Plant): string | undefined {
  const properties = Object.keys(envelopes) as EnvelopeProperty[];
  const count = (kind: 'grid' | 'converter'): number => plant.components.filter(each => each.kind.name === kind).length;
  const silent = (kind: 'grid' | 'converter') =>
    properties.filter(property => without(plant, kind, property).length === count(kind));
  const unasked = silent('grid');
  const open = properties.filter(
    property => !unasked.includes(property) && without(plant, 'converter', property).length > 0,
  );
  const said =
    count('grid') > 0 && (unasked.length < properties.length || silent('converter').length < properties.length);
  if (!said) return undefined;
  const tagsOf = (property: EnvelopeProperty): string => listed(without(plant, 'converter', property));
  const alike = [...new Set(open.map(tagsOf))].map(
    tags => [tags, open.filter(property => tagsOf(property) === tags)] as const,
  );
  const parts = [
    ...(unasked.length === 0 ? [] : [`${code(unasked)}, which no network states`]),
    ...alike.map(([tags, names]) => `whether ${tags} itself stays on (${code(names)})`),
  ];
  return parts.length === 0 ? undefined : `ride-through: ${parts.join('; ')}`;
}

const code = (names: readonly string[]): string => listed(names.map(name => `\`${name}\``));
