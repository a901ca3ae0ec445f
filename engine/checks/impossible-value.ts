// Facts that are possible one by one, but not together.
import type { KindName } from '../kinds/kind.ts';
import { type Component, tagOf } from '../model/plant.ts';
import { floorSoc } from '../results/battery-at-rest.ts';
import { lossInWatts } from '../results/transformer-facts.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Saying } from './context.ts';

const messages = {
  lossAboveImpedance: (f: { transformer: string; loss: string; ratio: string; impedance: string; inCase: string }) =>
    `${f.transformer}’s load loss of ${f.loss} alone is ${f.ratio} of its rating, more than its whole impedance of ${f.impedance}${f.inCase}: one of the two is wrong.`,
  lossAboveCurrent: (f: { transformer: string; ratio: string; current: string; inCase: string }) =>
    `${f.transformer}’s no-load loss is ${f.ratio} of its rating, more than its whole no-load current of ${f.current}${f.inCase}: one of the two is wrong.`,
  socBelowConnected: (f: { battery: string; lowest: string; bottom: string; inCase: string }) =>
    `${f.battery} is said to open its contactors at ${f.lowest}, inside the span that operation uses (down to ${f.bottom})${f.inCase}.`,
  dutyLeavesSpan: (f: { duty: string; own: string; battery: string; span: string; inCase: string }) =>
    `${f.duty} is to hold over ${f.own} state of charge${f.inCase}, but operation of ${f.battery} uses only ${f.span}.`,
  dutyBelowConnected: (f: { duty: string; bottom: string; battery: string; lowest: string; inCase: string }) =>
    `${f.duty} is to hold down to ${f.bottom} state of charge${f.inCase}, but ${f.battery} has opened its contactors by then: it is connected down to ${f.lowest} only.`,
  tooOften: (f: { duty: string; length: string; period: string; inCase: string }) =>
    `${f.duty} lasts ${f.length} and is said to come again every ${f.period}${f.inCase}, before it has ended; \`repeat\` counts from start to start.`,
  bothWays: (f: { duty: string; inCase: string }) =>
    `${f.duty} states \`discharge\` and \`charge\`${f.inCase}; a duty is one of them, and only the discharge is judged.`,
  twiceReactive: (f: { duty: string; inCase: string }) =>
    `${f.duty} states \`reactive\` and \`power_factor\`${f.inCase}; each says what reactive power is asked for, and only \`reactive\` is judged.`,
  twiceIdle: (f: { converter: string; part: string; inCase: string }) =>
    `${f.converter} states \`no_load_loss\` and \`${f.part}\`${f.inCase}; each says what it loses without power, and only the parts of the loss are judged.`,
  slowSwitching: (f: { converter: string; switching: string; network: string; inCase: string }) =>
    `${f.converter} is said to switch at ${f.switching}${f.inCase}, no faster than the ${f.network} of its network: so it can’t form a voltage of that frequency.`,
  tripBelowSpan: (f: { converter: string; trip: string; bottom: string; inCase: string }) =>
    `${f.converter} is said to trip at ${f.trip}${f.inCase}, no higher than the DC voltage from which on it operates (${f.bottom}).`,
};

export const impossibleValue = defineCheck({
  code: 'impossible_value',
  group: 'facts',
  title: 'Facts that contradict each other',
  why: 'Physics does not allow them together, so a number was misread, or belongs to another machine.',
  remedy: 'Look both numbers up again.',
  source: 'definition',
  on: 'plant',
  looksEverywhere: true,
  bad: [
    ['load_loss = 5.8 kW', 'load_loss = 58 kW'],
    ['require T1.loading <= 95 %\n', ''],
  ],
  run: context => {
    const judging = context.plant.components.filter(({ kind }) => contradictions[kind.name] !== undefined);
    context.judgeEach(judging, tagOf, component => sayFirst(context, component, contradictions[component.kind.name]!));
  },
});

/** Told of the first case in which it holds: in most of them the facts are those of the base case. */
function sayFirst(context: CheckContext, component: Component, contradictions: readonly Contradiction[]): void {
  for (const contradiction of contradictions) {
    for (const caseIndex of context.cases.keys()) {
      const found = contradiction(context, component, caseIndex);
      if (found === undefined) continue;
      context.say({ severity: 'error', component, ...found });
      break;
    }
  }
}

type Contradiction = (
  context: CheckContext,
  component: Component,
  caseIndex: number,
) => Pick<Saying, 'place' | 'related' | 'message'> | undefined;

const ratio = (value: number): string => show(value, dimensions.ratio);

const lossAboveImpedance: Contradiction = (context, transformer, caseIndex) => {
  const read = context.read(transformer, caseIndex);
  const rated = read.number(transformer, 'rated_power');
  const loss = lossInWatts(read, transformer, 'load_loss');
  const impedance = read.number(transformer, 'impedance', 'low');
  if (!(loss / rated > impedance)) return undefined;
  return {
    place: context.place(transformer, 'load_loss', caseIndex),
    related: context.related(caseIndex, [transformer, 'impedance', 'The impedance.']),
    message: messages.lossAboveImpedance({
      transformer: transformer.tag,
      loss: show(loss, dimensions.active_power),
      ratio: ratio(loss / rated),
      impedance: ratio(impedance),
      inCase: context.inCase(caseIndex),
    }),
  };
};

const lossAboveCurrent: Contradiction = (context, transformer, caseIndex) => {
  const read = context.read(transformer, caseIndex);
  const idle = lossInWatts(read, transformer, 'no_load_loss') / read.number(transformer, 'rated_power');
  const current = read.number(transformer, 'no_load_current');
  if (!(idle > current)) return undefined;
  return {
    place: context.place(transformer, 'no_load_loss', caseIndex),
    related: context.related(caseIndex, [transformer, 'no_load_current', 'The no-load current.']),
    message: messages.lossAboveCurrent({
      transformer: transformer.tag,
      ratio: ratio(idle),
      current: ratio(current),
      inCase: context.inCase(caseIndex),
    }),
  };
};

const contactorsInSpan: Contradiction = (context, battery, caseIndex) => {
  const lowest = context.fact(battery, 'lowest_connected', caseIndex)?.value;
  const bottom = context.number(battery, 'soc', 'low', caseIndex);
  if (lowest?.type !== 'number' || lowest.dimension === dimensions.voltage || !(lowest.nominal > bottom))
    return undefined;
  return {
    place: context.place(battery, 'lowest_connected', caseIndex),
    related: context.related(caseIndex, [battery, 'soc', 'The span.']),
    message: messages.socBelowConnected({
      battery: battery.tag,
      lowest: ratio(lowest.nominal),
      bottom: ratio(bottom),
      inCase: context.inCase(caseIndex),
    }),
  };
};

/** Parts of the state of charge that no statement means: a floor stated as a voltage is found to no better. */
const sameSoc = 1e-9;

/**
 * A span of the duty's own, against the batteries that carry it: named is the one that it leaves furthest, of equal ones
 * the first by name. One that has opened its contactors comes before any that is merely left.
 */
const dutyLeavesSpan: Contradiction = (context, duty, caseIndex) => {
  if (context.fact(duty, 'soc', caseIndex) === undefined) return undefined;
  const endsOf = (component: Component): readonly [number, number] => [
    context.number(component, 'soc', 'low', caseIndex),
    context.number(component, 'soc', 'high', caseIndex),
  ];
  const batteries = context.plant.components
    .filter(({ kind }) => kind.name === 'battery')
    .filter(battery => context.read(battery, caseIndex).routes(battery).length > 0)
    .sort((one, other) => (one.tag < other.tag ? -1 : 1));
  const [low, high] = endsOf(duty);
  const floorOf = (battery: Component): number =>
    context.fact(battery, 'lowest_connected', caseIndex) === undefined
      ? Number.NaN
      : context.read(battery, caseIndex).value(battery, floorSoc, noPoint);
  const said = { duty: duty.tag, bottom: ratio(low), own: spanText(low, high), inCase: context.inCase(caseIndex) };
  const place = context.place(duty, 'soc', caseIndex);
  const open = furthest(batteries, battery => floorOf(battery) - low);
  if (open !== undefined)
    return {
      place,
      related: context.related(caseIndex, [open, 'lowest_connected', 'Below this its contactors are open.']),
      message: messages.dutyBelowConnected({ ...said, battery: open.tag, lowest: ratio(floorOf(open)) }),
    };
  const left = furthest(batteries, battery => Math.max(endsOf(battery)[0] - low, high - endsOf(battery)[1]));
  if (left === undefined) return undefined;
  return {
    place,
    related: context.related(caseIndex, [left, 'soc', 'The span of the battery.']),
    message: messages.dutyLeavesSpan({ ...said, battery: left.tag, span: spanText(...endsOf(left)) }),
  };
};

/** The first of those whose measure is largest, and more than the same state of charge; one not known is none. */
function furthest(batteries: readonly Component[], measure: (battery: Component) => number): Component | undefined {
  let most = sameSoc;
  let found: Component | undefined;
  for (const battery of batteries) {
    const measured = measure(battery);
    if (!(measured > most)) continue;
    most = measured;
    found = battery;
  }
  return found;
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

const spanText = (low: number, high: number): string => `${ratio(low)} to ${ratio(high)}`;

/** `for` and `every` behind a power are judged where they stand; here the two facts. */
const tooOften: Contradiction = (context, duty, caseIndex) => {
  const [length, period] = ['duration', 'repeat'].map(word => context.number(duty, word, 'nominal', caseIndex));
  if (!(period! < length!)) return undefined;
  return {
    place: context.place(duty, 'repeat', caseIndex),
    related: context.related(caseIndex, [duty, 'duration', 'How long it lasts.']),
    message: messages.tooOften({
      duty: duty.tag,
      length: show(length!, dimensions.time),
      period: show(period!, dimensions.time),
      inCase: context.inCase(caseIndex),
    }),
  };
};

const bothWays: Contradiction = (context, duty, caseIndex) => {
  if (['discharge', 'charge'].some(way => context.fact(duty, way, caseIndex) === undefined)) return undefined;
  return {
    place: context.place(duty, 'charge', caseIndex),
    related: context.related(caseIndex, [duty, 'discharge', 'The other one.']),
    message: messages.bothWays({ duty: duty.tag, inCase: context.inCase(caseIndex) }),
  };
};

/** A case may well put a reactive power in the place of the power factor; a power factor beside it is lost anywhere. */
const twiceReactive: Contradiction = (context, duty, caseIndex) => {
  const reactive = context.fact(duty, 'reactive', caseIndex);
  const factor = context.fact(duty, 'power_factor', caseIndex);
  if (reactive === undefined || factor === undefined || factor.provenance.class === 'tool') return undefined;
  if (reactive !== context.fact(duty, 'reactive') && factor === context.fact(duty, 'power_factor')) return undefined;
  return {
    place: context.place(duty, 'power_factor', caseIndex),
    related: context.related(caseIndex, [duty, 'reactive', 'The other one.']),
    message: messages.twiceReactive({ duty: duty.tag, inCase: context.inCase(caseIndex) }),
  };
};

/** A case may well put parts of the loss in its place; stated beside them it is lost anywhere. */
const twiceIdle: Contradiction = (context, converter, caseIndex) => {
  const stated = (property: string) => context.fact(converter, property, caseIndex);
  const part = ['fixed_loss', 'linear_loss', 'quadratic_loss', 'switching_loss'].find(each => stated(each));
  const idle = stated('no_load_loss');
  if (idle === undefined || part === undefined) return undefined;
  const isNew = (property: string): boolean => stated(property) !== context.fact(converter, property);
  if (isNew(part) && !isNew('no_load_loss')) return undefined;
  return {
    place: context.place(converter, 'no_load_loss', caseIndex),
    related: context.related(caseIndex, [converter, part, 'The other one.']),
    message: messages.twiceIdle({ converter: converter.tag, part, inCase: context.inCase(caseIndex) }),
  };
};

const slowSwitching: Contradiction = (context, converter, caseIndex) => {
  const read = context.read(converter, caseIndex);
  const tag = read.route(converter)?.grid;
  const grid = tag === undefined ? undefined : read.component(tag);
  const switching = read.number(converter, 'switching_frequency');
  if (grid === undefined || !(switching <= read.number(grid, 'frequency'))) return undefined;
  return {
    place: context.place(converter, 'switching_frequency', caseIndex),
    related: context.related(caseIndex, [grid, 'frequency', 'The network’s frequency.']),
    message: messages.slowSwitching({
      converter: converter.tag,
      switching: show(switching, dimensions.frequency),
      network: show(read.number(grid, 'frequency'), dimensions.frequency),
      inCase: context.inCase(caseIndex),
    }),
  };
};

/** Lower than the top of the span a trip may well be set; then it is the trip that counts. */
const tripBelowSpan: Contradiction = (context, converter, caseIndex) => {
  const trip = context.number(converter, 'dc_trip', 'nominal', caseIndex);
  const bottom = context.number(converter, 'dc_voltage', 'low', caseIndex);
  if (!(trip <= bottom)) return undefined;
  return {
    place: context.place(converter, 'dc_trip', caseIndex),
    related: context.related(caseIndex, [converter, 'dc_voltage', 'The span.']),
    message: messages.tripBelowSpan({
      converter: converter.tag,
      trip: show(trip, dimensions.voltage),
      bottom: show(bottom, dimensions.voltage),
      inCase: context.inCase(caseIndex),
    }),
  };
};

const contradictions: Readonly<Partial<Record<KindName, readonly Contradiction[]>>> = {
  transformer: [lossAboveImpedance, lossAboveCurrent],
  converter: [slowSwitching, tripBelowSpan, twiceIdle],
  battery: [contactorsInSpan],
  duty: [tooOften, bothWays, twiceReactive, dutyLeavesSpan],
};
