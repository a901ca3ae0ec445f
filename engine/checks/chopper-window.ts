// Do both voltages of a chopper stay inside its spans, and far enough from each other for it to control?
import type { Component } from '../model/plant.ts';
import { customaryDutyLimits } from '../physics/chopper.ts';
import { dutyRatioMax, dutyRatioMin, storeVoltageMax, storeVoltageMin } from '../results/chopper.ts';
import type { Result } from '../results/definition.ts';
import { batterySide, linkVoltageMax, linkVoltageMin, spanOf } from '../results/link.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { batteriesOf, linkProperty } from './winding.ts';

const messages = {
  outside: (f: {
    chopper: string;
    who: string;
    voltage: string;
    side: string;
    limit: string;
    way: string;
    where: string;
  }) =>
    `${f.who} takes ${f.chopper}’s ${f.side} side ${f.way} ${f.voltage}, outside of its span that ends at ${f.limit}${f.where}.`,
  conducts: (f: { chopper: string; low: string; high: string; from: string; to: string; where: string }) =>
    `${f.low} on ${f.chopper}’s low side stands above the ${f.high} on its high side${f.where}: the diode between them conducts, and ${f.from} feeds ${f.to} without control.`,
  near: (f: { chopper: string; duty: string; limit: string; low: string; high: string; where: string }) =>
    `${f.chopper} would have to run at a duty ratio of ${f.duty} between ${f.low} on its low side and ${f.high} on its high side${f.where}; ${f.limit} is what switches can customarily do.`,
};

export const chopperWindow = defineCheck({
  code: 'chopper_window',
  group: 'voltage',
  title: 'A chopper’s voltages leave its spans',
  why: 'A chopper of half bridges holds one voltage apart from another only while its low side stays below its high side: its upper diode leads from low to high, and once the low side stands above, it conducts and nothing controls the current. Least pulse and dead time keep it from coming too near, and its parts are rated for the spans that its maker states.',
  remedy:
    'Change the number of cells in series, the state-of-charge span or the voltage of the DC link, or take a chopper with other spans.',
  source: 'maker’s statement of the chopper; duty ratios from 2 % to 98 %: common practice, no source',
  on: 'chopper',
  bad: [
    [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      'chopper Q1 {\n  low_side_voltage = 300 V .. 350 V\n  high_side_voltage = 600 V .. 850 V\n  link_voltage = 750 V ± 1 %\n  current = 1500 A\n}\n\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> B1',
    ],
    ['cells_in_series = 224', 'cells_in_series = 112'],
    ['strings = 4', 'strings = 8'],
  ],
  run: (context, chopper) => {
    if (!sayDuty(context, chopper)) return;
    for (const [way, result] of [
      ['battery', storeVoltageMin],
      ['battery', storeVoltageMax],
      ['converter', linkVoltageMin],
      ['converter', linkVoltageMax],
    ] as const)
      sayOutside(context, chopper, way, result);
  },
});

/** Within what the switches can do; false where the diode conducts: whatever else is outside follows from it. */
function sayDuty(context: CheckContext, chopper: Component): boolean {
  for (const [result, limit] of [
    [dutyRatioMax, customaryDutyLimits.to],
    [dutyRatioMin, customaryDutyLimits.from],
  ] as const) {
    const spot = context.worst(chopper, result);
    if (spot === undefined || !(result === dutyRatioMax ? spot.value > limit : spot.value < limit)) continue;
    const batteryIsLow = batterySide(context.read(chopper, spot.caseIndex), chopper) === 'low';
    const [battery, link] =
      (result === dutyRatioMax) === batteryIsLow
        ? [storeVoltageMax, linkVoltageMin]
        : [storeVoltageMin, linkVoltageMax];
    const [low, high] = (batteryIsLow ? [battery, link] : [link, battery]).map(voltage =>
      show(context.beside(spot, chopper, voltage), dimensions.voltage),
    ) as [string, string];
    const facts = { chopper: chopper.tag, low, high, where: context.where(spot) };
    const [from, to] = batteryIsLow ? ['the battery', 'the DC link'] : ['the DC link', 'the battery'];
    const conducts = spot.value >= 1;
    context.say({
      severity: 'error',
      component: chopper,
      place: context.place(chopper, linkProperty(context, chopper), spot.caseIndex),
      related: ofBattery(context, chopper, spot.caseIndex),
      spot,
      limit: { name: undefined, number: limit, display: show(limit, dimensions.ratio) },
      message: conducts
        ? messages.conducts({ ...facts, from, to })
        : messages.near({
            ...facts,
            duty: context.show(spot),
            limit: `${result === dutyRatioMax ? 'up to' : 'from'} ${show(limit, dimensions.ratio)}`,
          }),
    });
    if (conducts) return false;
  }
  return true;
}

function sayOutside(context: CheckContext, chopper: Component, way: 'battery' | 'converter', result: Result): void {
  const low = result.worst === 'lowest';
  const spanIn = (caseIndex: number) => spanOf(context.read(chopper, caseIndex), chopper, way);
  const limitIn = (caseIndex: number): number => spanIn(caseIndex)[low ? 'from' : 'to'];
  const spot = context.pastLimit(chopper, result, limitIn);
  if (spot === undefined) return;
  const { property } = spanIn(spot.caseIndex);
  const limit = limitIn(spot.caseIndex);
  context.say({
    severity: 'error',
    component: chopper,
    place: context.place(chopper, property, spot.caseIndex),
    related: way === 'battery' ? ofBattery(context, chopper, spot.caseIndex) : [],
    spot,
    limit: { name: undefined, number: limit, display: show(limit, dimensions.voltage) },
    message: messages.outside({
      chopper: chopper.tag,
      who: way === 'battery' ? 'The battery' : 'The DC link',
      voltage: context.show(spot),
      side: property === 'low_side_voltage' ? 'low' : 'high',
      limit: show(limit, dimensions.voltage),
      way: low ? 'down to' : 'up to',
      where: context.where(spot),
    }),
  });
}

function ofBattery(context: CheckContext, chopper: Component, caseIndex: number) {
  return batteriesOf(context, chopper).flatMap(battery =>
    context.related(
      caseIndex,
      [battery, 'cells_in_series', 'Cells in series make the voltage.'],
      [battery, 'soc', 'The ends of this span count.'],
    ),
  );
}
