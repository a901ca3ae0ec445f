// Would the freewheel diodes charge the battery while the gates are blocked?
import type { Component } from '../model/plant.ts';
import { voltageMin } from '../results/battery.ts';
import { floorSoc, floorVoltage, restVoltageMax, restVoltageMin } from '../results/battery-at-rest.ts';
import { onlyConverter } from '../results/battery-flow.ts';
import { dcVoltageMin } from '../results/converter-voltage.ts';
import type { Result } from '../results/definition.ts';
import { blockedPeak, diodeCurrent, diodeMargin, diodeStopSoc, exposedBatteries } from '../results/diodes.ts';
import { swellCharge, swellMargin, swellPeak, swellTime } from '../results/ride-through.ts';
import { type BlockedState, blockedStates, diodeCharges, openingProperties } from '../results/states.ts';
import { windingMax, windingMin } from '../results/winding.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { listed, tagsOf, without } from './not-checked.ts';
import { inStates, openingsIn, type StateOpening, untilOpen } from './opening-words.ts';
import { fixesOf } from './uncontrolled-charging-fixes.ts';
import { sayLink } from './uncontrolled-charging-link.ts';
import { batteryOf, choppersOf, windingOf, windingPlace } from './winding.ts';

interface Facts {
  readonly converter: string;
  /** The battery that stands lowest, and all that are charged. */
  readonly battery: string;
  readonly charged: string;
  readonly peak: string;
  readonly rest: string;
  readonly soc: string;
  readonly where: string;
  /** Empty, or a sentence with a blank before it. */
  readonly wayOut: string;
}

/** What stands beside "about" needs no more. */
const rough = { digits: 3 };

const messages = {
  conducts: (f: Facts & { states: string; current: string; stop: string; until: string }) =>
    `With the gates blocked${f.states}, ${f.converter}’s diodes charge ${f.charged} and nothing in the converter can stop them: the crest of ${f.peak} at its terminals stands above the ${f.rest} at which ${f.battery} rests at ${f.soc} state of charge${f.where}; about ${f.current} (mean) flows, until ${f.stop} state of charge${f.until}. Cells charged without control, or far below their limits, can overheat and burn.${f.wayOut}`,
  opens: (f: Facts & { until: string; current: string; charge: string }) =>
    `With the gates blocked, ${f.converter}’s diodes charge ${f.charged} until ${f.until}: the crest of ${f.peak} stands above the ${f.rest} at ${f.soc} state of charge${f.where}; about ${f.current} (mean) flows meanwhile, ${f.charge}.`,
  narrow: (f: Facts & { states: string; margin: string; wanted: string }) =>
    `${f.converter}’s blocked diodes are held back with only ${f.margin} to spare, less than the customary ${f.wanted}${f.states}: crest ${f.peak}, ${f.battery} at rest ${f.rest} at ${f.soc} state of charge${f.where}.${f.wayOut}`,
  swell: (f: Facts & { time: string; charge: string }) =>
    `If the gates block in the highest swell that must be ridden through, ${f.converter}’s diodes charge ${f.charged} for up to ${f.time}: the crest of ${f.peak} stands above the ${f.rest} at ${f.soc} state of charge${f.where}; ${f.charge} flows at most.`,
  transient: (f: Omit<Facts, 'charged' | 'soc' | 'wayOut'>) =>
    `Just after blocking at full discharge ${f.converter}’s diodes can conduct for a moment: the crest of ${f.peak} stands above the ${f.rest} to which ${f.battery} has sagged under load${f.where}; at rest it recovers above it.`,
};

export const uncontrolledCharging = defineCheck({
  code: 'uncontrolled_charging',
  group: 'voltage',
  hazard: true,
  title: 'Diodes charge the battery with the gates blocked',
  why: 'A converter whose gates are blocked is a six-pulse rectifier. Whenever the crest of the network, seen through the transformer, stands above the battery’s voltage, current flows that no control can limit: whenever the gates are blocked, on every trip and in standby, as long as both sides stay closed, and just when the battery is empty. The highest network voltage, all tolerances at their worst, the rise by the filter capacitor and the lowest state of charge at which the contactors are still closed count together.',
  remedy:
    'Choose a lower secondary voltage; or put a chopper between converter and battery, where no secondary voltage fits; or keep the battery disconnected below a higher state of charge (`lowest_connected`); or have a device open in each of these states and state it: `opens_on_blocking`, `opens_on_trip`, `opens_in_standby` with `opening_time` (AC) or `dc_opening_time`. Then charge flows until it opens, and a warning says how much.',
  source:
    'six-pulse bridge: diodes conduct where √2·U exceeds the DC voltage; the reserve is common practice, no source',
  on: 'converter',
  bad: [['secondary_voltage = 360 V', 'secondary_voltage = 380 V']],
  notChecked: plant => {
    const silent = [...Object.values(openingProperties), 'opening_time', 'dc_opening_time'].reduce(
      (tags, property) => tags.filter(tag => without(plant, 'converter', property).includes(tag)),
      tagsOf(plant, 'converter'),
    );
    if (silent.length === 0) return undefined;
    const verbs = silent.length === 1 ? 'blocks, trips or stands by' : 'block, trip or stand by';
    return `what opens when ${listed(silent)} ${verbs}: nothing is stated (\`opens_on_blocking\`, \`opening_time\`), so both sides are taken to stay closed`;
  },
  run: (context, converter) => {
    const spot = context.worst(converter, diodeMargin);
    if (spot === undefined) return;
    const exposed = exposedBatteries(context.read(converter, spot.caseIndex));
    const choppers = choppersOf(context, converter);
    if (choppers.length > 0 && sayLink(context, { converter, choppers, exposed, spot })) return;
    const battery = batteryOf(context, converter, floorVoltage, exposed);
    if (battery === undefined) return;
    const judgement = judge(context, converter);
    // The ways out are worked out only where one is needed.
    if (judgement === undefined) {
      sayTransient(context, converter, battery);
      saySwell(context, converter, battery);
    } else say(context, converter, battery, judgement);
  },
});

interface Judgement {
  readonly spot: Spot;
  readonly kind: 'lasting' | 'passing' | 'narrow';
  readonly openings: readonly StateOpening[];
  /** States in which nothing opens. */
  readonly lasting: readonly BlockedState[];
}

const order = ['narrow', 'passing', 'lasting'] as const;

/** Over all cases, since what opens may differ from one to the next: the gravest, of these the nearest to conduction. */
function judge(context: CheckContext, converter: Component): Judgement | undefined {
  let worst: Judgement | undefined;
  for (const spot of context.spots(converter, diodeMargin)) {
    const wanted = context.practice('diode_margin', spot.caseIndex).number;
    if (spot.value >= Math.max(0, wanted)) continue;
    const openings = openingsIn(context, converter, spot.caseIndex);
    const lasting = openings.filter(({ opening }) => opening.device === 'none').map(({ state }) => state);
    const narrow = spot.value < wanted && lasting.length > 0;
    const kind = spot.value < 0 ? (lasting.length > 0 ? 'lasting' : 'passing') : narrow ? 'narrow' : undefined;
    if (kind === undefined) continue;
    const graver = worst === undefined ? 1 : order.indexOf(kind) - order.indexOf(worst.kind);
    if (graver > 0 || (graver === 0 && spot.value < worst!.spot.value)) worst = { spot, kind, openings, lasting };
  }
  return worst;
}

function say(
  context: CheckContext,
  converter: Component,
  battery: Component,
  { spot, kind, openings, lasting }: Judgement,
): void {
  const { place, related } = placesOf(context, converter, battery, spot.caseIndex);
  const facts = factsOf(context, spot, battery);
  const stated = blockedStates.map(
    state => [converter, openingProperties[state], 'What opens in this state.'] as const,
  );
  const common = {
    component: converter,
    place,
    related: [...related, ...context.related(spot.caseIndex, ...stated)],
    spot,
    fixes: fixesOf(context, converter, battery),
  };
  const states = lasting.length === blockedStates.length ? '' : ` ${inStates(lasting)}`;
  if (kind === 'narrow') {
    const limit = context.practice('diode_margin', spot.caseIndex);
    const message = messages.narrow({ ...facts, states, margin: context.show(spot), wanted: limit.display });
    context.say({ ...common, severity: 'warning', hazard: false, limit, message });
    return;
  }
  const current = show(context.beside(spot, converter, diodeCurrent), dimensions.current, rough);
  if (kind === 'lasting') {
    const stop = show(context.beside(spot, converter, diodeStopSoc), dimensions.ratio, rough);
    const until = lasting.length === blockedStates.length ? '' : `; in the other states until ${untilOpen(openings)}`;
    const message = messages.conducts({ ...facts, states, current, stop, until });
    context.say({ ...common, severity: 'error', limit: noMargin, message });
    return;
  }
  const charge = chargeText(blockedStates.map(state => context.beside(spot, converter, diodeCharges[state])));
  const message = messages.opens({ ...facts, until: untilOpen(openings), current, charge });
  context.say({ ...common, severity: 'warning', hazard: false, limit: noMargin, message });
}

/** The most of all states; what is not said to open within a time has no bound. */
function chargeText(charges: readonly number[]): string {
  const most = Math.max(...charges);
  return Number.isNaN(most) ? 'how much charge that is can’t be said' : `${show(most, dimensions.charge)} at most`;
}

const noMargin = { name: undefined, number: 0, display: '0 %' };

/** What lasts a second and longer counts in the blocked voltage already; this is the short rest of the curve. */
function saySwell(context: CheckContext, converter: Component, battery: Component): void {
  const spot = context.worst(converter, swellMargin);
  if (spot === undefined || !(spot.value < 0)) return;
  const { place, related } = placesOf(context, converter, battery, spot.caseIndex);
  const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
  const charge = context.beside(spot, converter, swellCharge);
  context.say({
    component: converter,
    place,
    related: [
      ...(grid === undefined ? [] : context.related(spot.caseIndex, [grid, 'high_voltage_ride_through', 'The swell.'])),
      ...related,
    ],
    spot,
    severity: 'warning',
    hazard: false,
    limit: noMargin,
    message: messages.swell({
      ...factsOf(context, spot, battery),
      peak: show(context.beside(spot, converter, swellPeak), dimensions.voltage),
      time: show(context.beside(spot, converter, swellTime), dimensions.time),
      charge: show(charge, dimensions.charge),
    }),
  });
}

/**
 * Whether the battery surely stays above the crest, without a look at each duty: while it discharges it stands no lower
 * than its converter's DC side, while it is charged no lower than at rest at the same end of its span. Only told of one
 * that has its converter to itself, under duties that use its own span.
 */
function staysAbove(context: CheckContext, converter: Component, battery: Component): boolean {
  if (context.plant.duties.some(duty => context.states(duty, 'soc'))) return false;
  if (onlyConverter(context.read(battery)) !== converter) return false;
  context.judged.add(`${battery.tag}.${voltageMin.name}`);
  return context.cases.every((_, caseIndex) => {
    const at = (component: Component, result: Result): number =>
      context.graph.value(component, result, caseIndex, undefined, noPoint);
    const least = Math.min(at(converter, dcVoltageMin), at(battery, restVoltageMin), at(battery, restVoltageMax));
    return least >= at(converter, blockedPeak);
  });
}

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Sagging under load below the crest: the ohmic part of the sag is gone at once, the rest within minutes. */
function sayTransient(context: CheckContext, converter: Component, battery: Component): void {
  const sag = staysAbove(context, converter, battery) ? undefined : context.worst(battery, voltageMin);
  if (sag === undefined) return;
  const peak = context.beside(sag, converter, blockedPeak);
  if (!(sag.value < peak)) return;
  const rest = show(sag.value, dimensions.voltage);
  context.say({
    component: converter,
    place: windingPlace(context, converter, sag.caseIndex),
    spot: sag,
    severity: 'warning',
    hazard: false,
    fixes: fixesOf(context, converter, battery),
    limit: { name: `${converter.tag}.blocked_peak`, number: peak, display: show(peak, dimensions.voltage) },
    message: messages.transient({
      converter: converter.tag,
      battery: battery.tag,
      peak: show(peak, dimensions.voltage),
      rest,
      where: context.where(sag),
    }),
  });
}

function factsOf(context: CheckContext, spot: Spot, battery: Component): Facts {
  return {
    converter: spot.component.tag,
    battery: battery.tag,
    charged: chargedIn(context, spot),
    peak: show(context.beside(spot, spot.component, blockedPeak), dimensions.voltage),
    rest: show(context.beside(spot, battery, floorVoltage), dimensions.voltage),
    soc: show(context.beside(spot, battery, floorSoc), dimensions.ratio),
    where: context.where(spot),
    wayOut: wayOut(context, spot),
  };
}

/** Those that rest below the crest; what has only little to spare, or swells, charges none of them for good. */
function chargedIn(context: CheckContext, spot: Spot): string {
  const peak = context.beside(spot, spot.component, blockedPeak);
  const all = exposedBatteries(context.read(spot.component, spot.caseIndex));
  const low = all.filter(battery => context.beside(spot, battery, floorVoltage) < peak);
  return listed((low.length === 0 ? all : low).map(({ tag }) => tag));
}

/** Where no winding voltage fits at all: what does not depend on one. */
function wayOut(context: CheckContext, spot: Spot): string {
  const transformer = windingOf(context, spot.component)?.transformer;
  if (transformer === undefined) return '';
  const [least, most] = [windingMin, windingMax].map(bound => context.beside(spot, transformer, bound)) as [
    number,
    number,
  ];
  if (!(least > most)) return '';
  const [from, to] = [show(least, dimensions.voltage), show(most, dimensions.voltage)];
  const factor = show(least / most - 1, dimensions.ratio);
  return ` No secondary voltage of ${transformer.tag} fits: it would have to be at least ${from} and at most ${to}. A chopper between ${spot.component.tag} and its battery opens the window if it holds the DC link about ${factor} or more above the battery.`;
}

/** The winding is where the designer decides; without a transformer it is the network's voltage. */
function placesOf(context: CheckContext, converter: Component, battery: Component, caseIndex: number) {
  const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
  const place = windingPlace(context, converter, caseIndex);
  const related = context.related(
    caseIndex,
    ...(grid === undefined ? [] : ([[grid, 'voltage', 'The network’s highest voltage counts.']] as const)),
    [
      battery,
      context.fact(battery, 'lowest_connected', caseIndex) === undefined ? 'soc' : 'lowest_connected',
      'Down to here the battery may be connected.',
    ],
    [battery, 'open_circuit_voltage', 'The battery’s voltage at rest.'],
  );
  return { place, related };
}
