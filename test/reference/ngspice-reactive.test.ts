// Reactive power against the circuit simulator ngspice: capacitors in delta, and what a wrong voltage drives.

import { describe, test } from 'vitest';
import { capacitorElement, chokeElement, starCapacitance } from '../../engine/physics/filter.ts';
import { solveBlockedLadder } from '../../engine/physics/ladder.ts';
import { sound } from '../kit/checks.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { type Edit, worst } from '../kit/plants.ts';
import { comparedWith } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const near = comparedWith({
  quantity: 'reactive power without load, and by a wrong voltage',
  source: 'ngspice, AC analysis',
  evidence: 'outside program',
});

const phases = [0, -120, 120];

describe('capacitors in delta, each with its resistor', () => {
  const parts = { inductance: 80e-6, resistance: 1.2e-3, capacitance: 120e-6, damping: 0.15 };
  const netlist = `three phases and a delta
${phases.map((angle, i) => `V${i} s${i} 0 DC 0 AC ${400 / Math.sqrt(3)} ${angle}`).join('\n')}
${phases.map((_, i) => `R${i} s${i} m${i} ${parts.resistance}\nL${i} m${i} t${i} ${parts.inductance}`).join('\n')}
${phases.map((_, i) => `C${i} t${i} d${i} ${parts.capacitance}\nRd${i} d${i} t${(i + 1) % 3} ${parts.damping}`).join('\n')}
${phases.map((_, i) => `Rt${i} t${i} 0 1e9`).join('\n')}
.control
ac lin 1 50 50
print real(i(v0)) imag(i(v0)) mag(v(t0))
.endc
.end`;

  test('deliver what the engine’s star in their place does', () => {
    const measured = runNgspice(netlist);
    const star = starCapacitance(parts.capacitance, 'delta');
    const elements = [
      chokeElement(50, parts.inductance, parts.resistance),
      capacitorElement(50, star, parts.damping / 3)!,
    ];
    const solution = solved(solveBlockedLadder(elements, 400, { resistance: 0, reactance: 0 }));
    // The simulator counts a source's current inwards: of a capacitor it is −j·ω·C·U, and Q delivered to the source is
    // minus the imaginary part of U·(−I)*, which is U·Im(−I).
    const phase = 400 / Math.sqrt(3);
    near(solution.reactivePower[0]!, -3 * phase * measured.get('imag(i(v0))')!, 1e-6);
    near(-solution.activePower[0]!, -3 * phase * measured.get('real(i(v0))')!, 1e-4);
    near(solution.terminalVoltage, Math.sqrt(3) * measured.get('mag(v(t0))')!, 1e-6);
  });

  test('and a plant with them is the plant with that star', () => {
    const bank = (capacitance: number, connection: string, damping: number): readonly Edit[] => [
      ['capacitance = 300 µF', `capacitance = ${capacitance} µF\n  connection = ${connection}`],
      ['damping_resistance = 60 mΩ', `damping_resistance = ${damping} mΩ`],
    ];
    const [star, delta] = [sound(...bank(300, 'star', 60)), sound(...bank(100, 'delta', 180))];
    const names = ['F1.capacitor_share', 'F1.capacitor_reactive', 'F1.resonance_min', 'F1.lower_resonance'];
    for (const name of [...names, 'K1.no_load_reactive_power', 'K1.idle_voltage', 'K1.blocked_peak'])
      near(worst(delta, name).value, worst(star, name).value, 1e-9);
  });
});

describe('a control of voltage that measures half a per cent too much', () => {
  // The sample plant on the converter's side, one phase, the network's own voltage left out: what is left is what the
  // error drives. Choke 100 µH; 300 µF with 60 mΩ; winding of 6 % at 500 kVA and 360 V; 14 MVA with X/R = 5 through 0.9².
  const base = 360 ** 2 / 500e3;
  const resistance = (5800 / 500e3) * base;
  const reactance = Math.sqrt((0.06 * base) ** 2 - resistance ** 2);
  const network = (400 ** 2 / 14e6 / Math.hypot(1, 5)) * 0.9 ** 2;
  const henry = (ohms: number) => ohms / (2 * Math.PI * 50);
  const netlist = `what a wrong voltage drives
Vconv k 0 DC 0 AC ${(0.005 * 360) / Math.sqrt(3)}
L1 k c 100u
Rd c c1 0.06
Cf c1 0 300u
Rt c t1 ${resistance}
Lt t1 p ${henry(reactance)}
Rn p n1 ${network}
Ln n1 n2 ${henry(5 * network)}
Vnet n2 0 DC 0 AC 0
.control
ac lin 1 50 50
print real(i(vnet)) imag(i(vnet))
.endc
.end`;

  test('is wrong at the network by what the engine says, shunts aside', () => {
    const current = runNgspice(netlist).get('imag(i(vnet))')!;
    const reactive = -3 * (360 / Math.sqrt(3)) * current;
    const plant = sound(['ac_current = 850 A', 'ac_current = 850 A\n  control = voltage\n  voltage_error = 0.5 %']);
    // Resistances turn the current a little, the capacitor raises it a little.
    near(worst(plant, 'K1.reactive_error').value, reactive, 0.015);
  });
});
