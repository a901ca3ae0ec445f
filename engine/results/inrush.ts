// What switching a transformer on does: its inrush, and the dip that it makes at the network's connection point.
import { cableElement } from '../physics/cable.ts';
import { networkImpedance } from '../physics/grid.ts';
import { type Inrush, inrush } from '../physics/inrush.ts';
import type { Impedance } from '../physics/ladder.ts';
import { cableRun } from './ac-path.ts';
import { defineResult, defineStep } from './definition.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** From the network, at its lowest or highest fault power; undefined where facts are missing or it is built up gently. */
function defineInrush(strength: 'low' | 'high') {
  return defineStep<Inrush | undefined>({
    name: `inrush_${strength}`,
    on: 'transformer',
    axes: [],
    compute: read => {
      if (read.word(read.self, 'magnetised_from') === 'converter_side') return undefined;
      const route = read.route(read.self);
      const grid = route?.grid === undefined ? undefined : read.component(route.grid);
      const passed = route?.ac.find(element => element.tag === read.self.tag);
      if (grid === undefined || passed === undefined) return undefined;
      const voltage = read.number(grid, 'voltage');
      const network = networkImpedance(
        voltage,
        read.number(grid, 'fault_power', strength),
        read.number(grid, 'x_over_r'),
      );
      const line = lineBefore(read, read.number(grid, 'frequency'));
      if (!network.ok || line === undefined) return undefined;
      const found = inrush({
        ratedPower: read.number(read.self, 'rated_power'),
        voltage: read.number(read.self, passed.reversed ? 'secondary_voltage' : 'primary_voltage'),
        multiple: read.number(read.self, 'inrush'),
        network,
        line,
      });
      return found.ok ? found : undefined;
    },
  });
}

const weakest = defineInrush('low');
const strongest = defineInrush('high');

/** The cables between connection and transformer; undefined where more stands there, such as another transformer. */
function lineBefore(read: Read, frequency: number): Impedance | undefined {
  const line = { resistance: 0, reactance: 0 };
  for (const { tag, kind } of read.route(read.self)?.ac ?? []) {
    if (tag === read.self.tag) return line;
    const component = read.component(tag);
    if (kind === 'bus') continue;
    if (kind !== 'cable' || component === undefined) return undefined;
    const cable = cableElement(cableRun(read, component), frequency, read.number(component, 'reactance'));
    if (!cable.ok) return undefined;
    line.resistance += cable.resistance;
    line.reactance += cable.reactance;
  }
  return undefined;
}

export const inrushCurrent = defineResult({
  name: 'inrush_current',
  on: 'transformer',
  dimension: 'current',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'First peak of the current when the transformer is switched on from the network, at the highest fault power: an order of magnitude.',
  formula: 'î = k·√2·I_r · X_s / |Z_network + Z_cable + j·X_s|, X_s = Z_r / k',
  source: '`inrush` as the maker states it; else 10 times, common practice, no source',
  compute: read => read.step(read.self, strongest, noPoint)?.peak ?? Number.NaN,
});

export const inrushDip = defineResult({
  name: 'inrush_dip',
  on: 'transformer',
  dimension: 'ratio',
  axes: [],
  worst: 'highest',
  corners: 'extremes of the stated span',
  meaning:
    'Fall of the voltage at the connection point, fundamental, when the transformer is switched on from the network, at the lowest fault power.',
  formula: 'ΔU/U = 1 − |Z_cable + j·2·X_s| / |Z_network + Z_cable + j·2·X_s|, X_s = Z_r / k',
  source:
    'fundamental of a half wave of saturation: half its peak; `inrush` as stated, else 10, common practice, no source',
  compute: read => read.step(read.self, weakest, noPoint)?.connectionDip ?? Number.NaN,
});

export const inrushResults = [inrushCurrent, inrushDip];
