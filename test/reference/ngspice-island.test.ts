// A motor start on an island against the circuit simulator ngspice: one phase, loads as resistors and inductors, and the
// converter a stiff voltage or, at its limit, a stiff current.

import { describe, expect, test } from 'vitest';
import { islandStart, runningLoad, startingLoad } from '../../engine/physics/motor-start.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

const motor = { power: 55e3, efficiency: 0.93, powerFactor: 0.86, startMultiple: 6.5, startPowerFactor: 0.35 };
const running = { active: 80e3, reactive: 60e3 };
const series = { resistance: 4e-3, reactance: 20e-3 };

/**
 * The motor from its rated figures, in the simulator's own arithmetic: apparent power at the start 6.5·P/(η·cos φ), as
 * resistance and reactance in series. Source: definition of rated power (IEC 60034-1, from memory) and of
 * the starting current ratio.
 */
const netlist = (source: string): string => `
.param omega={2*3.14159265358979*50}
.param sstart={6.5*55e3/0.93/0.86}
.param zstart={400*400/sstart}
.param zrun={400*400/100e3}
${source}
Rs conv inner {4e-3}
Ls inner load {20e-3/omega}
Rm load motor {zstart*0.35}
Lm motor 0 {zstart*sqrt(1-0.35*0.35)/omega}
Rr load rest {zrun*0.8}
Lr rest 0 {zrun*0.6/omega}
.control
ac lin 1 50 50
print v(load)
print v(conv)
.endc
.end`;

const near = comparedWith({
  quantity: 'motor start on an island: voltage at the loads and at the converter',
  source: 'ngspice, AC analysis',
  evidence: 'outside program',
});

const size = (values: Map<string, number>, name: string): number =>
  Math.hypot(values.get(name)!, values.get(`${name}.im`)!);

describe('the voltage at the loads', () => {
  const start = (currentLimit: number) =>
    solved(islandStart({ voltage: 400, currentLimit, series, loads: [running, startingLoad(motor)!] }));

  test('behind a stiff voltage', () => {
    const values = runNgspice(netlist(`V1 conv 0 DC 0 AC ${400 / Math.sqrt(3)}`));
    const found = start(1e6);
    expect(found.limited).toBe(false);
    near(found.loadVoltage, Math.sqrt(3) * size(values, 'v(load)'), 1e-6);
  });

  test('behind a stiff current at the limit', () => {
    const values = runNgspice(netlist('I1 0 conv DC 0 AC 450'));
    const found = start(450);
    expect(found.limited).toBe(true);
    near(found.loadVoltage, Math.sqrt(3) * size(values, 'v(load)'), 1e-6);
    near(found.converterVoltage, Math.sqrt(3) * size(values, 'v(conv)'), 1e-6);
  });
});

test('a motor at rated load draws its rated current', () => {
  // 55 kW over √3·400 V, 93 % and cos φ 0.86, worked out apart from this code: 99.2569 A.
  const rated = comparedWith({
    quantity: 'rated current of a motor',
    source: 'definition of rated power, IEC 60034-1 (from memory)',
    evidence: 'recomputed independently',
  });
  const { active, reactive } = runningLoad(motor)!;
  rated(Math.hypot(active, reactive) / Math.sqrt(3) / 400, 99.2569, 1e-4);
});
