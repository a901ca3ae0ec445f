// A plant as facts in words, one table a component: easy to change one fact of, and to write out as text.
import type { Files } from './plants.ts';

/** Property to value, as it stands in the text. */
export type Words = Readonly<Record<string, string>>;

/** Components that a design holds once in words, however many equal ones stand in the plant. */
export type Section =
  | 'site'
  | 'rules'
  | 'grid'
  | 'networkCable'
  | 'transformer'
  | 'filter'
  | 'converter'
  | 'chopper'
  | 'batteryCable'
  | 'battery'
  | 'discharging'
  | 'charging';

export interface Design {
  readonly name: string;
  readonly sections: Readonly<Partial<Record<Section, Words>>>;
  /**
   * One line; several equal units on one winding, each with its battery; several converters on one winding and one
   * battery; or several lines, each with a transformer of its own.
   */
  readonly arrangement: 'line' | 'units' | 'one_battery' | 'branches';
  readonly units: number;
  /** Batteries side by side on the one converter of a line. */
  readonly packs: number;
  /** Each of these batteries stands behind a chopper of its own, instead of one before all of them. */
  readonly ownChoppers?: true;
  /** Between each unit's converter and its battery a bus, and all of these tied together. */
  readonly tied?: true;
  /** The chain is written from the battery to the network, so that the transformer's primary looks to the converter. */
  readonly backwards: boolean;
  /** Converter and battery come from parts in a file of their own. */
  readonly throughParts: boolean;
  /** Restated facts of every battery, by case. */
  readonly cases: Readonly<Record<string, Words>>;
  readonly demands: readonly string[];
}

/** The design with one fact stated in these words; '' leaves it out. */
export function stating(design: Design, section: Section, property: string, words: string): Design {
  const { [property]: _, ...others } = design.sections[section] ?? {};
  const changed = words === '' ? others : { ...design.sections[section], [property]: words };
  return { ...design, sections: { ...design.sections, [section]: changed } };
}

export function wordsOf(design: Design, section: Section, property: string): string | undefined {
  return design.sections[section]?.[property];
}

/** Tags of all components of a section. */
export function tagsOf(design: Design, section: Section): readonly string[] {
  if (design.sections[section] === undefined) return [];
  const each = (letter: string, from = 1, count = design.units) =>
    Array.from({ length: count }, (_, index) => `${letter}${index + from}`);
  switch (section) {
    case 'site':
      return [design.name];
    case 'rules':
      return ['House'];
    case 'grid':
      return ['MAIN'];
    case 'networkCable':
      return ['W1'];
    case 'transformer':
      return each('T', 1, design.arrangement === 'branches' ? design.units : 1);
    case 'filter':
      return each('F');
    case 'converter':
      return each('K');
    case 'chopper':
      return each('Q', 1, design.ownChoppers ? design.units * design.packs : design.units);
    case 'batteryCable':
      return each('W', 2, design.units * design.packs);
    case 'battery':
      return each('B', 1, design.arrangement === 'one_battery' ? 1 : design.units * design.packs);
    case 'discharging':
    case 'charging':
      return [section];
  }
}

/** The texts of the plant, `plant.plant` first. */
export function filesOfDesign(design: Design): Files {
  const { sections, throughParts } = design;
  const parts: string[] = [];
  const texts: string[] = throughParts ? ['use "parts.plant"'] : [];
  texts.push(block(`plant ${design.name}`, { ...sections.site, ...(sections.rules && { follows: 'House' }) }));
  if (sections.rules) texts.push(block('practice House', sections.rules));
  for (const [section, kind] of kinds) {
    const words = sections[section];
    if (words === undefined) continue;
    const fromPart = throughParts && (kind === 'converter' || kind === 'battery');
    if (fromPart) parts.push(block(`part ${kind} ${section}Part`, words));
    for (const tag of tagsOf(design, section))
      texts.push(fromPart ? `${kind} ${tag} is ${section}Part` : block(`${kind} ${tag}`, words));
  }
  texts.push(...connections(design));
  for (const section of ['discharging', 'charging'] as const)
    if (sections[section]) texts.push(block(`duty ${section}`, sections[section]));
  for (const [name, words] of Object.entries(design.cases)) texts.push(caseText(design, name, words));
  texts.push(...design.demands);
  const plant = ['plant.plant', `${texts.join('\n\n')}\n`] as const;
  return new Map(throughParts ? [plant, ['parts.plant', `${parts.join('\n\n')}\n`]] : [plant]);
}

const kinds: readonly (readonly [Section, string])[] = [
  ['grid', 'grid'],
  ['networkCable', 'cable'],
  ['transformer', 'transformer'],
  ['filter', 'filter'],
  ['converter', 'converter'],
  ['chopper', 'chopper'],
  ['batteryCable', 'cable'],
  ['battery', 'battery'],
];

function block(head: string, words: Words): string {
  const lines = Object.entries(words).map(([property, value]) => `  ${property} = ${value}\n`);
  return `${head} {\n${lines.join('')}}`;
}

/** `@` in the words of a case stands for the battery's tag. */
function caseText(design: Design, name: string, words: Words): string {
  const lines = tagsOf(design, 'battery').flatMap(tag =>
    Object.entries(words).map(([property, value]) => `  ${tag}.${property} = ${value.replaceAll('@', tag)}\n`),
  );
  return `case ${name} {\n${lines.join('')}}`;
}

function connections(design: Design): readonly string[] {
  const { arrangement, units, packs } = design;
  const one = (section: Section, index: number): readonly string[] => {
    const tag = tagsOf(design, section)[index];
    return tag === undefined ? [] : [tag];
  };
  const ownTransformer = arrangement === 'branches';
  const head = ['MAIN', ...one('networkCable', 0), ...(ownTransformer ? [] : one('transformer', 0))];
  const tail = (index: number) => [
    ...(ownTransformer ? one('transformer', index) : []),
    ...one('filter', index),
    ...one('converter', index),
    ...(design.ownChoppers ? [] : one('chopper', index)),
  ];
  const chain = (tags: readonly string[]): string =>
    `connect ${(design.backwards ? [...tags].reverse() : tags).join(' -> ')}`;
  const indices = Array.from({ length: units * packs }, (_, index) => index);
  const toBattery = (index: number) => [
    ...(design.ownChoppers ? one('chopper', index) : []),
    ...one('batteryCable', index),
    `B${index + 1}`,
  ];
  if (packs > 1)
    return ['bus D1 {}', chain([...head, ...tail(0), 'D1']), ...indices.map(i => chain(['D1', ...toBattery(i)]))];
  if (units === 1) return [chain([...head, ...tail(0), ...toBattery(0)])];
  if (arrangement === 'one_battery')
    return [
      'bus N1 {}',
      'bus N2 {}',
      chain([...head, 'N1']),
      ...indices.map(i => chain(['N1', ...tail(i), ...one('batteryCable', i), 'N2'])),
      chain(['N2', 'B1']),
    ];
  const sections = design.tied ? indices.map(index => `D${index + 1}`) : [];
  const behind = (index: number) => [...tail(index), ...sections.slice(index, index + 1), ...toBattery(index)];
  return [
    'bus N1 {}',
    ...sections.map(tag => `bus ${tag} {}`),
    chain([...head, 'N1']),
    ...indices.map(i => chain(['N1', ...behind(i)])),
    ...(design.tied ? [chain(sections)] : []),
  ];
}
