// What the switching puts on the capacitors of a converter's direct-current link.
import { capacitorCurrent } from '../physics/dc-link.ts';
import { defineResult, takenFrom } from './definition.ts';
import { flow } from './flow.ts';
import { modulationIndex } from './modulation.ts';

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
    const { terminalCurrent, terminalActivePower, terminalReactivePower } = solved.ladder;
    const apparent = Math.hypot(terminalActivePower, terminalReactivePower);
    return capacitorCurrent(terminalCurrent, index, terminalActivePower / apparent) ?? Number.NaN;
  }),
});

export const linkRippleResults = [linkRippleCurrent];
