// Ways out of uncontrolled charging that the text can take: a lower winding voltage, contactors that open earlier, or both.
import type { Fix } from '../finding.ts';
import type { Component } from '../model/plant.ts';
import { voltageMin } from '../results/battery.ts';
import { blockedPeak } from '../results/diodes.ts';
import { windingMaxDiode, windingMin } from '../results/winding.ts';
import { askedAt, stopAbove } from './connected-below-floor.ts';
import type { CheckContext } from './context.ts';
import { listed } from './not-checked.ts';
import { windingOf } from './winding.ts';

/** Voltages are chosen in steps of 5 V; where the window is too narrow for that, of 1 V. */
const steps = [5, 1];

/** Each is a choice, since it changes the design; contactors that open earlier only where no winding voltage fits. */
export function fixesOf(context: CheckContext, converter: Component, battery: Component): readonly Fix[] {
  const sag = leastSag(context, converter, battery);
  const fix = lowerWinding(context, converter, sag) ?? openEarlier(context, converter, battery, sag);
  return fix === undefined ? [] : [fix];
}

/** The least voltage of the loaded battery as a ratio of the crest at the blocked converter; without a duty unlimited. */
function leastSag(context: CheckContext, converter: Component, battery: Component): number {
  let least = Number.POSITIVE_INFINITY;
  for (const spot of context.spots(battery, voltageMin)) {
    const ratio = spot.value / context.beside(spot, converter, blockedPeak);
    if (ratio < least) least = ratio;
  }
  return least;
}

/** A secondary voltage that blocks the diodes with their margin, at rest and sagging, and is not below its window. */
function lowerWinding(context: CheckContext, converter: Component, sag: number): Fix | undefined {
  const winding = windingOf(context, converter);
  const place = winding === undefined ? undefined : context.valuePlace(winding.transformer, winding.property);
  if (winding === undefined || place === undefined) return undefined;
  const { transformer, property } = winding;
  if (isRestated(context, transformer, property)) return undefined;
  const stated = context.number(transformer, property);
  let highest = stated * sag;
  for (const { value, caseIndex } of context.spots(transformer, windingMaxDiode))
    highest = Math.min(highest, value / (1 + context.practice('diode_margin', caseIndex).number));
  const lowest = context.worst(transformer, windingMin)?.value ?? 0;
  const chosen = steps.map(step => Math.floor(highest / step) * step).find(voltage => voltage >= lowest);
  if (chosen === undefined || !(chosen < stated)) return undefined;
  const floors = floorsBeside(context, transformer, chosen / stated);
  const words = floors.map(({ battery, stops }) => (floors.length === 1 ? stops : `${stops} (${battery.tag})`));
  const also = floors.length === 0 ? '' : `, and have the contactors open at ${listed(words)}`;
  return {
    title: `Lower the secondary voltage to ${chosen} V${also}`,
    safe: false,
    edits: [{ place, text: `${chosen} V` }, ...floors.map(({ edit }) => edit)],
  };
}

/**
 * What must be stated beside a winding lowered to this part, so that the diodes stay blocked down to where the contactors
 * open: nothing says where that is, and an empty battery would still rest below the crest. A lower winding is raised
 * less by the filter capacitor, so that the crest falls at least as much. None where the battery can't be asked for it.
 */
function floorsBeside(context: CheckContext, transformer: Component, part: number) {
  const routes = context.graph.routesOf(transformer.tag).filter(({ cells }) => cells.length === 0);
  const batteries = [...new Set(routes.flatMap(route => route.batteries))].flatMap(tag => context.component(tag) ?? []);
  return batteries.flatMap(battery => {
    const converters = routes.filter(route => route.batteries.includes(battery.tag)).map(route => route.converter);
    const crests = converters
      .flatMap(tag => context.component(tag) ?? [])
      .flatMap(converter => [...context.spots(converter, blockedPeak)])
      .map(spot => ({ ...spot, value: part * spot.value }));
    const asked = askedAt(context, battery, crests).map(({ spot }) => spot);
    const stops = asked.length === 0 ? undefined : stopAbove(context, battery, asked);
    const place = battery.insertAt;
    if (stops === undefined || place === undefined) return [];
    return [{ battery, stops, edit: { place, text: `\n  lowest_connected = ${stops}` } }];
  });
}

/** The lowest whole per cent at which the battery rests far enough above the crest, if operation keeps above it. */
function openEarlier(context: CheckContext, converter: Component, battery: Component, sag: number): Fix | undefined {
  if (sag < 1 || isRestated(context, battery, 'lowest_connected')) return undefined;
  const stops = stopAbove(context, battery, context.spots(converter, blockedPeak));
  const place = context.valuePlace(battery, 'lowest_connected');
  const insertAt = place ?? battery.insertAt;
  if (stops === undefined || insertAt === undefined) return undefined;
  const text = place === undefined ? `\n  lowest_connected = ${stops}` : stops;
  return { title: `Have the contactors open at ${stops}`, safe: false, edits: [{ place: insertAt, text }] };
}

/** A case that states the fact anew would undo what is written in its place. */
function isRestated(context: CheckContext, component: Component, property: string): boolean {
  return context.cases.some(plantCase => plantCase.facts.get(component.tag)?.has(property) === true);
}
