// What a converter can do, as a few lines: how far each network voltage lets it go, and what stops it there.
import type { Capability, CapabilityAtVoltage, CapabilityPoint } from '../../../engine/analysis.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { harmless, type Style } from '../terminal.ts';

type Limit = CapabilityPoint['limit'];

const limits: Readonly<Record<Limit, string>> = {
  converter_current: 'the converter’s current',
  voltage_available: 'the voltage that the DC side gives',
  ac_voltage: 'the converter’s AC voltage',
  transformer: 'the transformer',
  dc_current: 'the converter’s DC current',
  battery: 'the battery',
};

const corners = { low: 'lowest', nominal: 'nominal', high: 'highest' } as const;

/** Powers are those delivered to the network; negative ones are taken from it. */
export function capabilityAsText(capability: Capability, style: Style): string {
  const of = capability.case === undefined ? '' : style.colour('grey', harmless(`  in case ${capability.case}`));
  const head = `${style.bold(harmless(`${capability.converter}.capability`))}${of}\n`;
  return head + capability.outlines.map(outlineAsText).join('');
}

function outlineAsText({ voltage, networkVoltage, points, empty }: CapabilityAtVoltage): string {
  const head = `  at the ${corners[voltage]} network voltage, ${show(networkVoltage, dimensions.voltage)}:`;
  if (empty !== undefined) return `${head} nothing, for ${limits[empty]}\n`;
  const active = (point: CapabilityPoint) => point.active;
  const reactive = (point: CapabilityPoint) => point.reactive;
  const watts = (value: number) => show(value, dimensions.active_power);
  const vars = (value: number) => show(value, dimensions.reactive_power);
  return [
    head,
    `    active power from ${furthest(points, active, -1, watts)} to ${furthest(points, active, 1, watts)}`,
    `    reactive power from ${furthest(points, reactive, -1, vars)} to ${furthest(points, reactive, 1, vars)}`,
    '',
  ].join('\n');
}

/** "449 kW (the transformer)"; in a corner of the outline what binds on either side: "-735 kW (the battery, the transformer)". */
function furthest(
  points: readonly CapabilityPoint[],
  of: (point: CapabilityPoint) => number,
  sign: 1 | -1,
  shown: (value: number) => string,
): string {
  const far = points.reduce((best, point, index) => (sign * of(point) > sign * of(points[best]!) ? index : best), 0);
  const around = [far - 1, far, far + 1].map(index => points.at(index % points.length)!.limit);
  return `${shown(of(points[far]!))} (${[...new Set(around)].map(limit => limits[limit]).join(', ')})`;
}
