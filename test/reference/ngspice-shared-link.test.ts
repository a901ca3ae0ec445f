// Two choppers on one DC link against the circuit simulator ngspice: one holds its voltage, the other carries the part of
// the current that it is told to, and each takes from its battery what it gives, loss included.
import { describe, expect, test } from 'vitest';
import type { ValueRow } from '../../engine/analysis.ts';
import { twoChoppers } from '../kit/choppers.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { analysed, complaints, edited } from '../kit/plants.ts';
import { comparedWith } from '../kit/reference.ts';

const near = (quantity: string) =>
  comparedWith({ quantity: `two choppers on one link: ${quantity}`, source: 'ngspice', evidence: 'outside program' });

const cable = (tag: string, metres: number): string =>
  `cable ${tag} { length = ${metres} m, cross_section = 240 mm², parallel = 3, conductor = copper }\n`;

/** The nearer one carries two fifths; its battery has fewer cells. */
const plant = analysed(
  edited(
    twoChoppers,
    ['current = 750 A', 'current = 900 A\n  share = 40 %'],
    ['current = 750 A', 'current = 900 A'],
    ['cells_in_series = 112', 'cells_in_series = 96'],
    [
      'bus D1 {}',
      `bus D1 {}\n${cable('W0', 6)}${cable('W1', 10)}${cable('W2', 25)}${cable('W3', 8)}${cable('W4', 12)}`,
    ],
    ['K1 -> D1 -> Q1 -> B1', 'K1 -> W0 -> D1 -> W1 -> Q1 -> W3 -> B1'],
    ['connect D1 -> Q2 -> B2', 'connect D1 -> W2 -> Q2 -> W4 -> B2'],
  ),
);

const rest = [0, 2.6, 0.1, 3.2, 0.5, 3.29, 0.9, 3.34, 1, 3.4];
/** Ω of four strings at 20 °C: the curve of the example, halfway between 15 °C and 25 °C. */
const inner = 0.165 / 4;

describe.each([
  ['start_peak', 0.1, 1],
  ['start_peak', 0.9, 1],
  ['braking', 0.1, -1],
])('%s at %d', (duty, soc, way) => {
  const at = ({ point }: ValueRow): boolean =>
    point.duty === duty &&
    point.case === undefined &&
    (point.voltage ?? 'nominal') === 'nominal' &&
    (point.direction ?? 'delivering') === 'delivering' &&
    Math.abs((point.soc ?? soc) - soc) < 1e-9;
  const value = (name: string): number => {
    const found = plant.analysis.values.all(name).find(at);
    if (found?.value === undefined) throw new Error(`${name} is not known`);
    return found.value;
  };
  const loop = (tag: string): number => value(`${tag}.loss`) / value(`${tag}.current`) ** 2;
  const emf = (cells: number): number => cells * rest[rest.indexOf(soc) + 1]!;
  const efficiency = way > 0 ? 1 / 0.98 : 0.98;
  // While the link gives, the one with the longer way holds its voltage; while it takes, the one with the shorter.
  const [held, told, part] = way > 0 ? ['2', '1', 0.4 / 0.6] : ['1', '2', 0.6 / 0.4];
  const circuit = `link
Vq held 0 742.5
Vm held q${held} 0
Fq 0 q${told} Vm ${part}
R1 q1 d ${loop('W1')}
R2 q2 d ${loop('W2')}
R0 d k ${loop('W0')}
Bload k 0 I = ${value('K1.dc_power')}/max(v(k),400)
B1 s1 0 I = ${efficiency}*v(q1)*${held === '1' ? 'i(Vm)' : `${part}*i(Vm)`}/max(v(s1),150)
B2 s2 0 I = ${efficiency}*v(q2)*${held === '2' ? 'i(Vm)' : `${part}*i(Vm)`}/max(v(s2),150)
V1 f1 0 ${emf(96)}
Ra f1 b1 ${inner}
Rb b1 s1 ${loop('W3')}
V2 f2 0 ${emf(112)}
Rc f2 b2 ${inner}
Rd b2 s2 ${loop('W4')}
.options reltol=1e-9
.control
op
let first = -i(v1)
let second = -i(v2)
let link = v(k)
let bone = v(b1)
let btwo = v(b2)
let sone = v(s1)
print first second link bone btwo sone
.endc
.end`;

  test('stands and carries as the circuit does', () => {
    expect(complaints(plant).map(({ message }) => message)).toEqual([]);
    const simulated = runNgspice(circuit);
    near('voltage')(value('K1.dc_voltage'), simulated.get('link')!, 1e-7);
    near('voltage')(value('B1.voltage_min'), simulated.get('bone')!, 1e-7);
    near('voltage')(value('B2.voltage_min'), simulated.get('btwo')!, 1e-7);
    near('voltage')(value('Q1.store_voltage'), simulated.get('sone')!, 1e-7);
    near('current of a battery')(way * value('B1.current'), simulated.get('first')!, 1e-6);
    near('current of a battery')(way * value('B2.current'), simulated.get('second')!, 1e-6);
  });
});
