// Where a value is, in words that stay true when the graph that it comes from is gone.
import type { PointView } from '../finding.ts';
import { factIn } from '../model/plant.ts';
import { directions, voltages } from '../results/definition.ts';
import type { Graph } from '../results/graph.ts';
import type { Spot } from './context.ts';

/** The coordinates on which the value depends, in words. */
export function pointView(graph: Graph, spot: Omit<Spot, 'value'>): PointView {
  const { axes } = spot.result;
  const { name } = graph.plant.cases[spot.caseIndex]!;
  return {
    case: name === '' ? undefined : name,
    duty: spot.duty?.tag,
    voltage: axes.includes('voltage') ? voltages[spot.at.voltage] : undefined,
    soc: axes.includes('soc') ? socOf(graph, spot) : undefined,
    direction: axes.includes('direction') ? directions[spot.at.direction] : undefined,
  };
}

function socOf(graph: Graph, spot: Omit<Spot, 'value'>): number | undefined {
  const plantCase = graph.plant.cases[spot.caseIndex]!;
  const route = graph.routesOf(spot.component.tag)[0] ?? graph.plant.topology.routes[0];
  const cell = route?.cells.find(({ chopper }) => chopper === spot.component.tag);
  const tag = spot.component.kind.name === 'battery' ? spot.component.tag : (cell?.batteries[0] ?? route?.battery);
  const battery = tag === undefined ? undefined : graph.plant.byTag.get(tag);
  const duty = spot.component.kind.name === 'duty' ? spot.component : spot.duty;
  const own = duty === undefined ? undefined : factIn(plantCase, duty, 'soc');
  const value = (own ?? (battery === undefined ? undefined : factIn(plantCase, battery, 'soc')))?.value;
  return value?.type === 'number' ? (spot.at.soc === 0 ? value.low : value.high) : undefined;
}
