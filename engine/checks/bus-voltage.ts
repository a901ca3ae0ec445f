// Does the voltage that a bus states agree with what is connected to it?
import type { Fix, JudgedNumber } from '../finding.ts';
import type { Component, NumberFact } from '../model/plant.ts';
import { nominalVoltage, onDirectSide, voltageHigh, voltageLow } from '../results/bus.ts';
import type { Result } from '../results/definition.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';

const messages = {
  nominal: (f: { bus: string; stated: string; found: string; where: string }) =>
    `${f.bus} is stated as a bus of ${f.stated}, but what is connected to it makes ${f.found}${f.where}.`,
  between: (f: { bus: string; stated: string; low: string; high: string; where: string }) =>
    `${f.bus} is stated as a bus of ${f.stated}, but what is connected to it keeps it between ${f.low} and ${f.high}${f.where}.`,
  leaves: (f: { bus: string; end: string; stated: string; found: string; where: string }) =>
    `The voltage of ${f.bus} ${f.end} ${f.found}, outside the ${f.stated} that it is stated to keep${f.where}.`,
};

/** A nominal voltage may stand beside a winding's no-load voltage that is a few per cent higher (common practice, no source). */
const usual = 0.1;

export const busVoltage = defineCheck({
  code: 'bus_voltage',
  group: 'voltage',
  title: 'A bus whose voltage is not what it states',
  why: 'Nothing is computed from the voltage of a bus: it follows from what is connected. Where the two disagree, one of the facts is wrong, or equipment chosen by the bus stands on another voltage.',
  remedy: 'Correct the bus, or the ratio or the source that gives it another voltage.',
  source:
    'stated beside what follows; more than 10 % off is no matter of a winding’s no-load voltage: common practice, no source',
  on: 'bus',
  bad: [['connect MAIN -> T1 -> F1', 'bus N1 { voltage = 440 V }\nconnect MAIN -> T1 -> N1 -> F1']],
  run: (context, bus) => {
    for (let caseIndex = 0; caseIndex < context.cases.length; caseIndex++) {
      const value = context.fact(bus, 'voltage', caseIndex)?.value;
      if (value?.type === 'number' && judge(context, bus, value, caseIndex)) return;
    }
  },
});

function judge(context: CheckContext, bus: Component, stated: NumberFact, caseIndex: number): boolean {
  if (stated.form === 'range') return judgeSpan(context, bus, stated, caseIndex);
  const direct = onDirectSide(context.read(bus, caseIndex)) === true;
  return direct ? judgeDirect(context, bus, stated, caseIndex) : judgeNominal(context, bus, stated, caseIndex);
}

function judgeNominal(context: CheckContext, bus: Component, stated: NumberFact, caseIndex: number): boolean {
  const spot = spotIn(context, bus, nominalVoltage, caseIndex);
  if (spot === undefined || Math.abs(stated.nominal / spot.value - 1) <= usual) return false;
  return say(
    context,
    bus,
    spot,
    stated.nominal,
    messages.nominal({
      bus: bus.tag,
      stated: volts(stated.nominal),
      found: context.show(spot),
      where: context.where(spot),
    }),
    stateInstead(context, bus, volts(Math.round(spot.value))),
  );
}

function judgeDirect(context: CheckContext, bus: Component, stated: NumberFact, caseIndex: number): boolean {
  const low = spotIn(context, bus, voltageLow, caseIndex);
  const high = spotIn(context, bus, voltageHigh, caseIndex);
  if (low === undefined || high === undefined) return false;
  if (stated.nominal >= low.value && stated.nominal <= high.value) return false;
  const nearer = stated.nominal < low.value ? low : high;
  return say(
    context,
    bus,
    nearer,
    stated.nominal,
    messages.between({
      bus: bus.tag,
      stated: volts(stated.nominal),
      low: context.show(low),
      high: context.show(high),
      where: context.where(nearer),
    }),
  );
}

function judgeSpan(context: CheckContext, bus: Component, stated: NumberFact, caseIndex: number): boolean {
  const low = spotIn(context, bus, voltageLow, caseIndex);
  const high = spotIn(context, bus, voltageHigh, caseIndex);
  const [spot, limit, end] =
    low !== undefined && low.value < stated.low
      ? ([low, stated.low, 'falls to'] as const)
      : ([high, stated.high, 'rises to'] as const);
  if (spot === undefined || (spot === high && !(spot.value > limit))) return false;
  return say(
    context,
    bus,
    spot,
    limit,
    messages.leaves({
      bus: bus.tag,
      end,
      stated: `${volts(stated.low)} .. ${volts(stated.high)}`,
      found: context.show(spot),
      where: context.where(spot),
    }),
  );
}

function spotIn(context: CheckContext, bus: Component, result: Result, caseIndex: number): Spot | undefined {
  return [...context.spots(bus, result)].find(spot => spot.caseIndex === caseIndex);
}

const volts = (value: number): string => show(value, dimensions.voltage);

function say(
  context: CheckContext,
  bus: Component,
  spot: Spot,
  limit: number,
  message: string,
  fixes: readonly Fix[] = [],
): true {
  const judged: JudgedNumber = { name: undefined, number: limit, display: volts(limit) };
  const place = context.place(bus, 'voltage', spot.caseIndex);
  context.say({ severity: 'warning', component: bus, place, spot, limit: judged, message, fixes });
  return true;
}

/** Not where a case states it anew: that would stay. */
function stateInstead(context: CheckContext, bus: Component, text: string): readonly Fix[] {
  const place = context.valuePlace(bus, 'voltage');
  const restated = context.cases.some(plantCase => plantCase.facts.get(bus.tag)?.has('voltage') === true);
  if (place === undefined || restated) return [];
  return [{ title: `State ${text}`, safe: false, edits: [{ place, text }] }];
}
