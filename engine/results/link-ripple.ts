// What the switching puts on the capacitors of a converter's direct-current link.
import { capacitorCurrent, linkVoltageRipple as swingOf } from '../physics/dc-link.ts';
import { type At, defineResult, takenFrom } from './definition.ts';
import { type Flow, flow } from './flow.ts';
import { effectiveModulationOf, modulationIndex } from './modulation.ts';

export const linkRippleCurrent = defineResult({
  name: 'link_ripple_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Rms current of the capacitors of the DC link under the duty, from switching alone: to be held against what their maker permits at the temperature that they reach. The ripple of the line current is neglected.',
  formula: 'I_C = I·√(2·M·(√3/(4·π) + cos²φ·(√3/π − 9·M/16)))',
  source: 'Kolar and Round, rms current stress on the DC-link capacitor, 2006 (from memory)',
  taken: takenFrom(flow, modulationIndex, (solved, index) => {
    if (solved?.ok !== true) return Number.NaN;
    return capacitorCurrent(solved.ladder.terminalCurrent, index, cosPhiAtTerminals(solved)) ?? Number.NaN;
  }),
});

export const linkVoltageRipple = defineResult({
  name: 'link_voltage_ripple',
  on: 'converter',
  dimension: 'voltage',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Largest swing of the DC link’s voltage within one switching period under the duty, from peak to peak, as far as the converter’s own switching makes it: `dc_capacitance` takes all but the mean current, the cables and the battery none of it, and the ripple of the line current is neglected.',
  formula: 'ΔU = max over ωt and x of |∫₀ˣ (i_dc − I_dc) dx|/(f_s·C), x over half a switching period',
  source: 'circuit theory: charge of the link’s capacitors within a switching period',
  compute: (read, at) => {
    const capacitance = read.number(read.self, 'dc_capacitance');
    if (Number.isNaN(capacitance)) return Number.NaN;
    const solved = read.step(read.self, flow, at);
    if (solved?.ok !== true) return Number.NaN;
    const swing = swingOf({
      current: solved.ladder.terminalCurrent,
      modulationIndex: read.value(read.self, modulationIndex, at),
      cosPhi: cosPhiAtTerminals(solved),
      modulation: read.step(read.self, effectiveModulationOf, noPoint) ?? 'space_vector',
      switchingFrequency: read.number(read.self, 'switching_frequency'),
      capacitance,
    });
    return swing ?? Number.NaN;
  },
});

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

function cosPhiAtTerminals({ ladder }: Extract<Flow, { readonly ok: true }>): number {
  return ladder.terminalActivePower / Math.hypot(ladder.terminalActivePower, ladder.terminalReactivePower);
}

export const linkRippleResults = [linkRippleCurrent, linkVoltageRipple];
