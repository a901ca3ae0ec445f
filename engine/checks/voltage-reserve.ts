// Does the converter reach the voltage that each duty needs, down to the end of the state-of-charge span?

import { terminalVoltage, voltageAvailable, voltageReserve } from '../results/converter-voltage.ts';
import { fullPowerSoc } from '../results/energy.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { batteryOf, choppersOf, dcSource, lowestDcSource, windingPlace } from './winding.ts';

interface Facts {
  readonly converter: string;
  readonly source: string;
  readonly needed: string;
  readonly available: string;
  readonly where: string;
  readonly from: string;
}

const messages = {
  short: (f: Facts) =>
    `${f.converter} can’t reach the ${f.needed} that it needs${f.where}: ${f.source} lets it make ${f.available}${f.from}.`,
  narrow: (f: Facts & { margin: string; wanted: string }) =>
    `${f.converter} has ${f.margin} to spare over the ${f.needed} that it needs${f.where}, less than the ${f.wanted} wanted: ${f.source} lets it make ${f.available}.`,
};

export const voltageReserveCheck = defineCheck({
  code: 'voltage_reserve',
  group: 'voltage',
  title: 'The converter lacks voltage under load',
  why: 'To push power into the network the converter must stand above it by the drop over filter and transformer, just when the loaded battery sags. This bound often binds first, and hand calculation forgets it. Where the voltage is not there, the power is not there either.',
  remedy:
    'Choose a lower secondary voltage, a higher bottom of the state-of-charge span, more strings or cells, less power or reactive power, or a narrower span of the network’s voltage in which the duty holds.',
  source: 'practice `control_margin_worst`: common practice, no source',
  on: 'converter',
  bad: [['transformer_spare = 5 %', 'transformer_spare = 5 %\n  control_margin_worst = 20 %']],
  run: (context, converter) => {
    const wantedIn = (caseIndex: number) => context.practice('control_margin_worst', caseIndex);
    const least = context.worst(converter, voltageReserve);
    // What is missing altogether is worse than what is narrow.
    const isShort = least !== undefined && least.value < 0;
    const spot = isShort
      ? least
      : context.pastLimit(converter, voltageReserve, caseIndex => wantedIn(caseIndex).number);
    if (spot === undefined) return;
    const wanted = wantedIn(spot.caseIndex);
    const battery = batteryOf(context, converter);
    const isLink = choppersOf(context, converter).length > 0;
    const from = battery === undefined ? Number.NaN : context.beside(spot, battery, fullPowerSoc);
    const facts: Facts = {
      converter: converter.tag,
      source: lowestDcSource(context, converter, 'the battery'),
      needed: show(context.beside(spot, converter, terminalVoltage), dimensions.voltage),
      available: show(context.beside(spot, converter, voltageAvailable), dimensions.voltage),
      where: context.where(spot),
      from: isLink ? '' : fullPower(from, spot.duty?.facts.has('discharge') === true),
    };
    const related = [
      ...dcSource(context, converter, spot.caseIndex, [['soc', 'The bottom of this span counts.']]),
      ...context.duty(spot, 'This power is asked for.'),
    ];
    const common = { component: converter, place: windingPlace(context, converter, spot.caseIndex), related, spot };
    if (spot.value < 0)
      context.say({
        ...common,
        severity: 'error',
        limit: { name: undefined, number: 0, display: '0 %' },
        message: messages.short(facts),
      });
    else
      context.say({
        ...common,
        severity: 'warning',
        limit: wanted,
        message: messages.narrow({ ...facts, margin: context.show(spot), wanted: wanted.display }),
      });
  },
});

/** From which state of charge on a discharge has its power; charging, the voltage only rises. */
function fullPower(from: number, discharging: boolean): string {
  if (!discharging) return '';
  return Number.isNaN(from)
    ? '; not even a full battery would do'
    : `; from ${show(from, dimensions.ratio)} state of charge on the power is there`;
}
