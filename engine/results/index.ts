// All results by kind, in the order in which people read them.
import type { KindName } from '../kinds/kind.ts';
import { type Dimension, dimensions } from '../units/dimension.ts';
import { circuitResults } from './ac-path.ts';
import { balanceResults } from './balance.ts';
import { batteryResults } from './battery.ts';
import { restResults } from './battery-at-rest.ts';
import { innerResults } from './battery-model.ts';
import { blackStartResults } from './black-start.ts';
import { busResults } from './bus.ts';
import { cableResults } from './cable.ts';
import { chopperResults } from './chopper.ts';
import { circulatingResults } from './circulating.ts';
import { converterCurrentResults } from './converter-current.ts';
import { converterLossResults } from './converter-loss.ts';
import { converterVoltageResults } from './converter-voltage.ts';
import { dcWayResults } from './dc-way.ts';
import type { Result } from './definition.ts';
import { diodeResults } from './diodes.ts';
import { dutyResults } from './duty.ts';
import { dutyBatteryResults } from './duty-battery.ts';
import { energyResults } from './energy.ts';
import { equalisingResults } from './equalising.ts';
import { filterResults } from './filter.ts';
import { flowResults } from './flow.ts';
import { gridResults } from './grid.ts';
import { harmonicResults } from './harmonics.ts';
import { inrushResults } from './inrush.ts';
import { islandResults } from './island.ts';
import { linkResults } from './link.ts';
import { linkRippleResults } from './link-ripple.ts';
import { linkShareResults } from './link-share.ts';
import { lossResults } from './losses.ts';
import { modulationResults } from './modulation.ts';
import { plantResults } from './plant.ts';
import { powerBySocResults } from './power-by-soc.ts';
import { reactiveResults } from './reactive.ts';
import { rechargeResults } from './recharge.ts';
import { rideThroughResults } from './ride-through.ts';
import { stateResults } from './states.ts';
import { throughputResults } from './throughput.ts';
import { transformerResults } from './transformer.ts';
import { transformerFactResults } from './transformer-facts.ts';
import { transformerThermalResults } from './transformer-thermal.ts';
import { windingResults } from './winding.ts';

export const results: readonly Result[] = [
  ...plantResults,
  ...gridResults,
  ...busResults,
  ...cableResults,
  ...circuitResults,
  ...windingResults,
  ...transformerFactResults,
  ...transformerResults,
  ...inrushResults,
  ...transformerThermalResults,
  ...filterResults,
  ...diodeResults,
  ...stateResults,
  ...rideThroughResults,
  ...converterVoltageResults,
  ...converterCurrentResults,
  ...circulatingResults,
  ...equalisingResults,
  ...converterLossResults,
  ...flowResults,
  ...dcWayResults,
  ...reactiveResults,
  ...islandResults,
  ...blackStartResults,
  ...modulationResults,
  ...linkRippleResults,
  ...harmonicResults,
  ...linkResults,
  ...linkShareResults,
  ...chopperResults,
  ...restResults,
  ...batteryResults,
  ...dutyBatteryResults,
  ...innerResults,
  ...energyResults,
  ...powerBySocResults,
  ...balanceResults,
  ...rechargeResults,
  ...throughputResults,
  ...dutyResults,
  ...lossResults,
];

const byKind = new Map<KindName, readonly Result[]>();

export function resultsOf(kind: KindName): readonly Result[] {
  const known = byKind.get(kind);
  if (known !== undefined) return known;
  const list = results.filter(result => result.on === kind);
  byKind.set(kind, list);
  return list;
}

export function resultOf(kind: KindName, name: string): Result | undefined {
  return resultsOf(kind).find(result => result.name === name);
}

export function resultDimension(kind: KindName, name: string): Dimension | undefined {
  const result = resultOf(kind, name);
  return result === undefined ? undefined : dimensions[result.dimension];
}
