// What the switching puts on the capacitors of a converter's direct-current link.
import { capacitorCurrent, linkVoltageRipple as swingOf } from '../physics/dc-link.ts';
import { current } from './converter-current.ts';
import { terminalVoltage } from './converter-voltage.ts';
import { type At, defineResult } from './definition.ts';
import { terminalPower } from './flow.ts';
import { effectiveModulationOf, modulationIndex } from './modulation.ts';
import { takenFrom } from './taken.ts';

export const linkRippleCurrent = defineResult({
  name: 'link_ripple_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Rms current of the capacitors of the DC link under the duty, from switching alone: to be held against what their maker permits at the temperature that they reach. The ripple of the line current is neglected.',
  formula: 'I_C = I·√(2·M·(√3/(4·π) + cos²φ·(√3/π − 9·M/16))), cosφ = P / (√3·U·I)',
  source: 'Kolar and Round, rms current stress on the DC-link capacitor, 2006 (from memory)',
  // Through the values that the formula names, so that it can be followed to them.
  taken: takenFrom(current, terminalVoltage, terminalPower, modulationIndex, (line, voltage, power, index) => {
    return capacitorCurrent(line, index, cosPhiAt(line, voltage, power)) ?? Number.NaN;
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
    const line = read.value(read.self, current, at);
    const voltage = read.value(read.self, terminalVoltage, at);
    const power = read.value(read.self, terminalPower, at);
    if (Number.isNaN(line + voltage + power)) return Number.NaN;
    const swing = swingOf({
      current: line,
      modulationIndex: read.value(read.self, modulationIndex, at),
      cosPhi: cosPhiAt(line, voltage, power),
      modulation: read.step(read.self, effectiveModulationOf, noPoint) ?? 'space_vector',
      switchingFrequency: read.number(read.self, 'switching_frequency'),
      capacitance,
    });
    return swing ?? Number.NaN;
  },
});

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

function cosPhiAt(line: number, voltage: number, power: number): number {
  return power / (Math.sqrt(3) * voltage * line);
}

export const linkRippleResults = [linkRippleCurrent, linkVoltageRipple];
