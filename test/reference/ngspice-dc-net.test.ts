// A bus in two sections with a tie against the circuit simulator ngspice: unequal batteries and converters that take
// constant power at either end, each its own.
import { describe, expect, test } from 'vitest';
import type { ValueRow } from '../../engine/analysis.ts';
import { soundExample } from '../../engine/checks/example.ts';
import { netState } from '../../engine/physics/dc-net.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { analysed, edited } from '../kit/plants.ts';
import { comparedWith } from '../kit/reference.ts';

const near = (quantity: string) =>
  comparedWith({ quantity: `net of batteries: ${quantity}`, source: 'ngspice', evidence: 'outside program' });

describe('four points, three batteries, two taps, and a ring', () => {
  /** Invented. Ω, V, A. */
  const runs = [
    { from: 0, to: 1, resistance: 0.004 },
    { from: 1, to: 2, resistance: 0.011 },
    { from: 2, to: 3, resistance: 0.007 },
    { from: 3, to: 0, resistance: 0.013 },
  ];
  const sources = [
    { point: 0, emf: 731, resistance: 0.041 },
    { point: 2, emf: 728, resistance: 0.052 },
    { point: 3, emf: 736, resistance: 0.036 },
  ];
  const taps = [
    { point: 1, part: 0.35 },
    { point: 3, part: 0.65 },
  ];

  test.each([0, 900, -400])('at %d A', amperes => {
    const lines = [
      ...runs.map(({ from, to, resistance }, index) => `Rr${index} p${from} p${to} ${resistance}`),
      ...sources.flatMap(({ point, emf, resistance }, index) => [
        `Vs${index} e${index} 0 ${emf}`,
        `Rs${index} e${index} p${point} ${resistance}`,
      ]),
      ...taps.map(({ point, part }, index) => `It${index} p${point} 0 ${part * amperes}`),
    ];
    const simulated = runNgspice(`net
${lines.join('\n')}
.control
op
let outa = -i(vs0)
let outb = -i(vs1)
let outc = -i(vs2)
let first = v(p1)
let second = v(p3)
print outa outb outc first second
.endc
.end`);
    const { idle, slope, sourceIdle, sourceParts } = netState({ points: 4, runs, sources, taps })!;
    for (const [index, name] of ['outa', 'outb', 'outc'].entries())
      near('current')(sourceIdle[index]! + sourceParts[index]! * amperes, simulated.get(name)!, 1e-6);
    near('voltage')(idle[1]! + slope[1]! * amperes, simulated.get('first')!, 1e-9);
    near('voltage')(idle[3]! + slope[3]! * amperes, simulated.get('second')!, 1e-9);
  });
});

describe('the sound example twice on one network, its batteries of three strings and of one, 60 m of cable between', () => {
  const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
  const plant = analysed(
    edited(
      soundExample,
      ['strings = 4', 'strings = 3'],
      ['capacitance = 300 µF', 'capacitance = 150 µF'],
      [
        'connect MAIN -> T1 -> F1 -> K1 -> B1',
        `${block.replace('B1', 'B2').replace('strings = 4', 'strings = 1')}
filter F2 { converter_inductance = 100 µH, capacitance = 150 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 560 A, efficiency = 93 %, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
bus N1 {}\nbus D1 {}\nbus D2 {}
cable W3 { length = 60 m, cross_section = 240 mm², parallel = 2, conductor = copper }
connect MAIN -> T1 -> N1 -> F1 -> K1 -> D1 -> B1
connect N1 -> F2 -> K2 -> D2 -> B2\nconnect D1 -> W3 -> D2`,
      ],
    ),
  );
  /** Ω of a string at 20 °C (curve of the example, halfway between 15 °C and 25 °C), and V of its cells at the ends. */
  const string = 0.165;
  const rest = new Map([
    [0.1, 224 * 3.2],
    [0.9, 224 * 3.34],
  ]);

  test.each([
    ['start_peak', 0.1, 1],
    ['start_peak', 0.9, 1],
    ['braking', 0.1, -1],
  ])('%s at %d', (duty, soc, way) => {
    const value = (name: string): number => {
      const at = ({ point }: ValueRow): boolean =>
        point.duty === duty &&
        (point.voltage ?? 'nominal') === 'nominal' &&
        (point.direction ?? 'delivering') === 'delivering' &&
        Math.abs((point.soc ?? soc) - soc) < 1e-9;
      const found = plant.analysis.values.all(name).find(at);
      if (found?.value === undefined) throw new Error(`${name} is not known`);
      return found.value;
    };
    const loop = value('W3.loss') / value('W3.current') ** 2;
    const simulated = runNgspice(`sections
V1 e1 0 ${rest.get(soc)}
R1 e1 d1 ${string / 3}
V2 e2 0 ${rest.get(soc)}
R2 e2 d2 ${string}
R3 d1 m ${loop}
Vm m d2 0
B1 d1 0 I = ${value('K1.dc_power')}/max(v(d1),400)
B2 d2 0 I = ${value('K2.dc_power')}/max(v(d2),400)
.options reltol=1e-9
.control
op
let first = -i(v1)
let second = -i(v2)
let tie = i(vm)
let near = v(d1)
let far = v(d2)
print first second tie near far
.endc
.end`);
    expect(simulated.get('tie')! * way).toBeGreaterThan(0);
    near('current of a battery in a plant')(way * value('B1.current'), simulated.get('first')!, 1e-6);
    near('current of a battery in a plant')(way * value('B2.current'), simulated.get('second')!, 1e-6);
    near('current of the tie')(way * value('W3.current'), simulated.get('tie')!, 1e-6);
    near('voltage at a converter')(value('K1.dc_voltage'), simulated.get('near')!, 1e-7);
    near('voltage at a converter')(value('K2.dc_voltage'), simulated.get('far')!, 1e-7);
  });
});
