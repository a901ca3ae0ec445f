// The transformer winding that several checks point at.

import type { Place, RelatedPlace } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import { restVoltageMin } from '../results/battery-at-rest.ts';
import type { Result } from '../results/definition.ts';
import { spanOf } from '../results/link.ts';
import type { CheckContext } from './context.ts';
import { listed } from './not-checked.ts';

/** The transformer winding on the converter's side, and the property that states its voltage. */
export function windingOf(
  context: CheckContext,
  converter: Component,
): { transformer: Component; property: 'secondary_voltage' | 'primary_voltage' } | undefined {
  const passed = context.graph.routesOf(converter.tag)[0]?.ac.findLast(element => element.kind === 'transformer');
  const transformer = context.component(passed?.tag);
  if (passed === undefined || transformer === undefined) return undefined;
  return { transformer, property: passed.reversed ? 'primary_voltage' : 'secondary_voltage' };
}

/** Where the designer decides on the converter's voltage: the winding; without a transformer the network's voltage. */
export function windingPlace(context: CheckContext, converter: Component, caseIndex: number): Place {
  const winding = windingOf(context, converter);
  if (winding !== undefined) return context.place(winding.transformer, winding.property, caseIndex);
  const grid = context.component(context.graph.routesOf(converter.tag)[0]?.grid);
  return context.place(grid ?? converter, 'voltage', caseIndex);
}

/** The choppers between it and its batteries: they hold its DC link together. */
export function choppersOf(context: CheckContext, converter: Component): readonly Component[] {
  const cells = context.graph.routesOf(converter.tag)[0]?.cells ?? [];
  return cells.flatMap(({ chopper }) => context.component(chopper) ?? []);
}

/** What gives the converter its DC voltage, as a message says it; to be followed by a verb in the singular. */
export function dcSourceName(context: CheckContext, converter: Component): string {
  const choppers = choppersOf(context, converter).map(({ tag }) => tag);
  if (choppers.length === 0) return 'The battery';
  return choppers.length === 1 ? choppers[0]! : `The DC link of ${listed(choppers)}`;
}

/** The same where it stands lowest, inside a sentence. */
export function lowestDcSource(context: CheckContext, converter: Component, battery: string): string {
  const choppers = choppersOf(context, converter).map(({ tag }) => tag);
  if (choppers.length === 0) return battery;
  return `the link at the lowest voltage that ${listed(choppers)} ${choppers.length === 1 ? 'holds' : 'hold'}`;
}

/** The fact by which a chopper's DC link has its voltage. */
export function linkProperty(context: CheckContext, chopper: Component): string {
  if (chopper.facts.has('link_voltage')) return 'link_voltage';
  return spanOf(context.read(chopper), chopper, 'converter').property;
}

/** Its battery, or several side by side; of a chopper those behind it. */
export function batteriesOf(context: CheckContext, { tag }: Component): readonly Component[] {
  const route = context.graph.routesOf(tag)[0];
  const tags = (route?.cells.find(({ chopper }) => chopper === tag) ?? route)?.batteries ?? [];
  return tags.flatMap(battery => context.component(battery) ?? []);
}

/** Its battery, for messages and related places; of several the one that stands lowest. */
export function batteryOf(
  context: CheckContext,
  converter: Component,
  voltage: Result = restVoltageMin,
  all: readonly Component[] = batteriesOf(context, converter),
): Component | undefined {
  if (all.length < 2) return all[0];
  const levels = all.map(battery => context.worst(battery, voltage)?.value ?? Number.POSITIVE_INFINITY);
  return all[levels.indexOf(Math.min(...levels))];
}

/** What makes the converter's DC voltage: what its choppers hold, or properties of its battery, each with a word on it. */
export function dcSource(
  context: CheckContext,
  converter: Component,
  caseIndex: number,
  ofBattery: readonly (readonly [property: string, message: string])[],
): readonly RelatedPlace[] {
  const choppers = choppersOf(context, converter);
  if (choppers.length > 0)
    return context.related(
      caseIndex,
      ...choppers.map(
        chopper => [chopper, linkProperty(context, chopper), 'This is what the chopper holds there.'] as const,
      ),
    );
  const battery = batteryOf(context, converter);
  return battery === undefined
    ? []
    : context.related(caseIndex, ...ofBattery.map(([property, message]) => [battery, property, message] as const));
}
