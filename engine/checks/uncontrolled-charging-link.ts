// Blocked diodes before a chopper: they face the DC link, and lift it to the crest; the battery is another question.
import type { Component } from '../model/plant.ts';
import { floorVoltage } from '../results/battery-at-rest.ts';
import { blockedPeak, diodeMargin } from '../results/diodes.ts';
import { linkVoltageMin, spanOf } from '../results/link.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import type { CheckContext, Spot } from './context.ts';
import { listed } from './not-checked.ts';
import { batteriesOf, linkProperty, windingPlace } from './winding.ts';

interface Facts {
  readonly converter: string;
  readonly choppers: readonly string[];
  /** Those that are not reached. */
  readonly batteries: readonly string[];
  readonly peak: string;
  readonly link: string;
  readonly where: string;
}

const messages = {
  over: (f: Facts & { limit: string; of: string }) =>
    `With the gates blocked, ${f.converter}’s diodes lift the DC link to the crest of ${f.peak} at its terminals, above the ${f.limit} up to which ${f.of} is built${f.where}: capacitors and semiconductors fail. ${shield(f)}.`,
  lifts: (f: Facts) =>
    `With the gates blocked, ${f.converter}’s diodes lift the DC link from the ${f.link} that ${holding(f)} to the crest of ${f.peak} at its terminals${f.where}. ${shield(f)}.`,
  narrow: (f: Facts & { margin: string; wanted: string }) =>
    `${f.converter}’s blocked diodes are held back with only ${f.margin} to spare, less than the customary ${f.wanted}: crest ${f.peak}, DC link ${f.link} as ${holding(f, ' it')} at the lowest${f.where}. ${shield(f)}.`,
};

function holding({ choppers }: Facts, what = ''): string {
  return `${listed(choppers)} ${choppers.length === 1 ? 'holds' : 'hold'}${what}`;
}

function shield({ choppers, batteries }: Facts): string {
  const safe = `${listed(batteries)} ${batteries.length === 1 ? 'is' : 'are'} not charged by this`;
  return choppers.length === 1
    ? `${safe}: of ${choppers[0]!}’s two ways between them, only a switch leads to the battery`
    : `${safe}: of the two ways through a chopper, only a switch leads to the battery`;
}

interface Parts {
  readonly converter: Component;
  readonly choppers: readonly Component[];
  /** Batteries to which a chopper's own diode leads on. */
  readonly exposed: readonly Component[];
  /** Worst diode margin against the link. */
  readonly spot: Spot;
}

/** Says what the diodes do to the link; false where a chopper's own diode leads them on to a battery that rests below. */
export function sayLink(context: CheckContext, { converter, choppers, exposed, spot: worst }: Parts): boolean {
  const peakAt = (at: Spot): number => context.beside(at, converter, blockedPeak);
  if (exposed.some(battery => context.beside(worst, battery, floorVoltage) < peakAt(worst))) return false;
  const batteries = batteriesOf(context, converter).filter(battery => !exposed.includes(battery));
  if (batteries.length === 0) return true;
  const wantedIn = (caseIndex: number) => context.practice('diode_margin', caseIndex);
  const limitIn = (caseIndex: number) => lowestLimit(context, converter, choppers, caseIndex);
  // What lifts the link beyond what it is built for is worse than what lifts it, and that than what is narrow.
  const breaks = (at: Spot): boolean => at.value < 0 && peakAt(at) > limitIn(at.caseIndex).volts;
  const spot =
    worst.value < 0
      ? (context.worst(converter, diodeMargin, breaks) ?? worst)
      : context.pastLimit(converter, diodeMargin, caseIndex => wantedIn(caseIndex).number);
  if (spot === undefined) return true;
  const peak = peakAt(spot);
  const wanted = wantedIn(spot.caseIndex);
  const facts: Facts = {
    converter: converter.tag,
    choppers: choppers.map(({ tag }) => tag),
    batteries: batteries.map(({ tag }) => tag),
    peak: show(peak, dimensions.voltage),
    link: show(context.beside(spot, choppers[0]!, linkVoltageMin), dimensions.voltage),
    where: context.where(spot),
  };
  const common = {
    component: converter,
    place: windingPlace(context, converter, spot.caseIndex),
    related: context.related(
      spot.caseIndex,
      ...choppers.map(chopper => [chopper, linkProperty(context, chopper), 'This is what the chopper holds.'] as const),
    ),
    spot,
  };
  const limit = limitIn(spot.caseIndex);
  const noMargin = { name: undefined, number: 0, display: '0 %' };
  if (breaks(spot))
    context.say({
      ...common,
      severity: 'error',
      limit: { name: undefined, number: limit.volts, display: show(limit.volts, dimensions.voltage) },
      spot: { ...spot, result: blockedPeak, value: peak },
      message: messages.over({ ...facts, limit: show(limit.volts, dimensions.voltage), of: limit.of }),
    });
  else if (spot.value < 0)
    context.say({ ...common, severity: 'warning', hazard: false, limit: noMargin, message: messages.lifts(facts) });
  else
    context.say({
      ...common,
      severity: 'warning',
      hazard: false,
      limit: wanted,
      message: messages.narrow({ ...facts, margin: context.show(spot), wanted: wanted.display }),
    });
  return true;
}

/** Up to which voltage the link is built: the lowest of what converter and choppers say. */
function lowestLimit(context: CheckContext, converter: Component, choppers: readonly Component[], caseIndex: number) {
  const own = { volts: context.number(converter, 'dc_voltage', 'high', caseIndex), of: converter.tag };
  return choppers.reduce((least, chopper) => {
    const { to } = spanOf(context.read(chopper, caseIndex), chopper, 'converter');
    return to < least.volts ? { volts: to, of: chopper.tag } : least;
  }, own);
}
