// Does a cable carry the duty's current where and how it lies?
import type { Fix } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import { ampacity, ampacityOf, current, loading } from '../results/cable.ts';
import { tabulatedCrossSections } from '../tables/conductor-resistance.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { listed, without } from './not-checked.ts';

const messages = {
  over: (f: { cable: string; current: string; ampacity: string; loading: string; lying: string; where: string }) =>
    `${f.cable} carries ${f.current} where ${f.ampacity} is what it may carry for good ${f.lying}, ${f.loading}${f.where}.`,
  notJudged: (f: { cable: string; why: string; inCase: string }) =>
    `${f.cable}’s current is not judged against what it may carry${f.inCase}: ${f.why}.`,
};

export const cableAmpacity = defineCheck({
  code: 'cable_ampacity',
  group: 'current',
  title: 'Too much current in a cable',
  why: 'Insulation that is hotter than it is made for ages fast and fails. What a cable may carry depends on where it lies, on the heat around it and on loaded neighbours as much as on its cross-section.',
  remedy: 'Take a larger cross-section or more conductors in parallel, lay them apart or in cooler surroundings.',
  source:
    'IEC 60364-5-52, Annex B, as open tables have it: method of installation, ambient temperature and grouping; aluminium in A2 and B2, with xlpe in D2, layers and neighbours in the ground: the same, from memory; a short duty is judged as if it lasted',
  on: 'cable',
  bad: [
    [
      'connect MAIN -> T1',
      'cable W1 { length = 5 m, cross_section = 120 mm², parallel = 2, installation = E }\nconnect MAIN -> W1 -> T1',
    ],
  ],
  notChecked: plant => {
    const tags = without(plant, 'cable', 'installation');
    if (tags.length === 0) return undefined;
    return `ampacity of ${listed(tags)}: no \`installation\` says how ${tags.length === 1 ? 'it lies' : 'they lie'}`;
  },
  run: (context, cable) => {
    sayWhatIsMissing(context, cable);
    const lies = context.cases.some((_, caseIndex) => context.fact(cable, 'installation', caseIndex) !== undefined);
    if (!lies) return;
    const spot = context.worst(cable, loading);
    if (spot === undefined || !(spot.value > 1)) return;
    const limit = context.beside(spot, cable, ampacity);
    context.say({
      severity: 'error',
      component: cable,
      place: context.place(cable, 'cross_section', spot.caseIndex),
      related: context.related(
        spot.caseIndex,
        [cable, 'installation', 'How it lies.'],
        [cable, 'parallel', 'Conductors that share the current.'],
        [cable, 'grouping', 'Its neighbours.'],
        [cable, 'ambient', 'The heat around it.'],
      ),
      spot,
      limit: { name: undefined, number: 1, display: show(1, dimensions.ratio) },
      message: messages.over({
        cable: cable.tag,
        current: show(context.beside(spot, cable, current), dimensions.current),
        ampacity: show(limit, dimensions.current),
        lying: lying(context, cable, spot),
        loading: context.show(spot),
        where: context.where(spot),
      }),
      fixes: fixesOf(context, cable),
    });
  },
});

/** "by method E at 40 °C, 4 circuits side by side". */
function lying(context: CheckContext, cable: Component, { caseIndex }: Spot): string {
  const method = context.read(cable, caseIndex).word(cable, 'installation');
  const own = context.number(cable, 'ambient', 'high', caseIndex);
  const ambient = Number.isNaN(own) ? context.number(context.plant.site, 'ambient', 'high', caseIndex) : own;
  const number = (property: string) => context.number(cable, property, 'nominal', caseIndex);
  const circuits = number('grouping') - 1 + number('parallel');
  return `by method ${method} at ${show(ambient, dimensions.temperature)}${circuits === 1 ? '' : `, ${circuits} circuits side by side`}`;
}

/** What holds in all cases at once; each is a choice, since it changes the design. */
function fixesOf(context: CheckContext, cable: Component): readonly Fix[] {
  if (['cross_section', 'parallel'].some(property => isRestated(context, cable, property))) return [];
  const size = context.number(cable, 'cross_section');
  const parallel = context.number(cable, 'parallel');
  // The table of copper holds all sizes; what it has for another metal, `holds` asks by the facts of the cable.
  const larger = tabulatedCrossSections('copper').find(each => each > size && holds(context, cable, parallel, each));
  const more = Array.from({ length: mostParallel }, (_, index) => parallel + 1 + index).find(count =>
    holds(context, cable, count, size),
  );
  return [
    ...(larger === undefined ? [] : stating(context, cable, 'cross_section', `${Math.round(larger * 1e6)} mm²`)),
    ...(more === undefined ? [] : stating(context, cable, 'parallel', `${more}`)),
  ];
}

/** So many more conductors are tried: a choice of our own. */
const mostParallel = 12;

/** Another run changes the current a little, by its drop: half a per cent covers that. */
function holds(context: CheckContext, cable: Component, parallel: number, size: number): boolean {
  return context.cases.every((_, caseIndex) => {
    const found = ampacityOf(context.read(cable, caseIndex), parallel, size);
    if (found?.ok !== true) return false;
    const allowed = parallel * found.current;
    return [...context.spots(cable, current)].every(
      spot => spot.caseIndex !== caseIndex || 1.005 * spot.value <= allowed,
    );
  });
}

function stating(context: CheckContext, cable: Component, property: string, text: string): readonly Fix[] {
  const title = property === 'parallel' ? `Lay ${text} conductors in parallel` : `Take conductors of ${text}`;
  const place = context.valuePlace(cable, property);
  if (place !== undefined) return [{ title, safe: false, edits: [{ place, text }] }];
  const stated = context.fact(cable, property)?.place !== undefined;
  if (stated || cable.insertAt === undefined) return [];
  return [{ title, safe: false, edits: [{ place: cable.insertAt, text: `\n  ${property} = ${text}` }] }];
}

function isRestated(context: CheckContext, cable: Component, property: string): boolean {
  return context.cases.some(plantCase => plantCase.facts.get(cable.tag)?.has(property) === true);
}

/** How it lies is stated, but the table has no figure for it: said, since nobody would expect it. */
function sayWhatIsMissing(context: CheckContext, cable: Component): void {
  for (const caseIndex of context.cases.keys()) {
    const [size, parallel] = ['cross_section', 'parallel'].map(name =>
      context.number(cable, name, 'nominal', caseIndex),
    );
    const found = size! * parallel! > 0 ? ampacityOf(context.read(cable, caseIndex), parallel!, size!) : undefined;
    if (found === undefined || found.ok) continue;
    context.say({
      severity: 'note',
      component: cable,
      place: context.place(cable, 'installation', caseIndex),
      message: messages.notJudged({ cable: cable.tag, why: whyNot(found), inCase: context.inCase(caseIndex) }),
    });
    return;
  }
}

function whyNot(found: Extract<NonNullable<ReturnType<typeof ampacityOf>>, { readonly ok: false }>): string {
  if (found.problem === 'no_column') return 'the table that the tool holds has no column for this method and conductor';
  if (found.problem === 'size_not_in_table') return 'the table has no such cross-section in the column of this method';
  return found.of === 'circuits'
    ? `so many circuits side by side lie beyond the ${found.to} of the table`
    : `the temperature around it lies outside the ${show(found.from, dimensions.temperature)} to ${show(found.to, dimensions.temperature)} of the table`;
}
