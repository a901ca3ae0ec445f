// Batteries side by side against the circuit simulator ngspice: what each carries of a current, what they drive through
// each other without one, and how long both last where their cables let one carry more than the other.
import { describe, expect, test } from 'vitest';
import type { ValueRow } from '../../engine/analysis.ts';
import { soundExample } from '../../engine/checks/example.ts';
import { equalising, type Source, together } from '../../engine/physics/bank.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { type Analysed, analysed, complaints, edited } from '../kit/plants.ts';
import { comparedWith } from '../kit/reference.ts';

const near = (quantity: string) =>
  comparedWith({ quantity: `batteries side by side: ${quantity}`, source: 'ngspice', evidence: 'outside program' });

describe('three batteries, two of them behind a cable that they share', () => {
  /** Invented. V, Ω. */
  const first = { emf: 731, resistance: 0.041 };
  const second = { emf: 728, resistance: 0.052 };
  const third = { emf: 736, resistance: 0.036 };
  const shared = 0.004;
  const sources: readonly Source[] = [{ resistance: shared, sources: [first, second] }, third];

  const circuit = (amperes: number): string => `batteries
V1 e1 0 ${first.emf}
R1 e1 s ${first.resistance}
V2 e2 0 ${second.emf}
R2 e2 s ${second.resistance}
Rs s t ${shared}
V3 e3 0 ${third.emf}
R3 e3 t ${third.resistance}
Iload t 0 ${amperes}
.control
op
let first = -i(v1)
let second = -i(v2)
let third = -i(v3)
let terminals = v(t)
print first second third terminals
.endc
.end`;

  test.each([0, 600, -250])('at %d A', amperes => {
    const simulated = runNgspice(circuit(amperes));
    const { emf, resistance, parts } = together(sources);
    const idle = equalising(sources);
    for (const [index, name] of ['first', 'second', 'third'].entries())
      near('current')(parts[index]! * amperes + idle[index]!, simulated.get(name)!, 1e-6);
    near('voltage')(emf - resistance * amperes, simulated.get('terminals')!, 1e-9);
  });
});

describe('the sound example with its battery in two, behind 10 m and 40 m of cable', () => {
  const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
  const cable = (tag: string, metres: number): string =>
    `cable ${tag} { length = ${metres} m, cross_section = 240 mm², parallel = 2, conductor = copper }\n`;
  const plant: Analysed = analysed(
    edited(
      soundExample,
      ['strings = 4', 'strings = 2'],
      [
        'connect MAIN -> T1 -> F1 -> K1 -> B1',
        `${block.replace('B1', 'B2').replace('strings = 4', 'strings = 2')}bus D1 {}\n${cable('W1', 10)}${cable('W2', 40)}
connect MAIN -> T1 -> F1 -> K1 -> D1 -> W1 -> B1\nconnect D1 -> W2 -> B2`,
      ],
    ),
  );
  const value = (name: string, row = (_: ValueRow): boolean => true): number => {
    const found = plant.analysis.values.all(name).find(row);
    if (found?.value === undefined) throw new Error(`${name} is not known`);
    return found.value;
  };
  const nominal = ({ point }: ValueRow): boolean =>
    point?.duty === 'start_peak' && point.voltage === 'nominal' && point.direction === 'delivering';

  test('is sound', () => expect(complaints(plant)).toEqual([]));

  const power = value('K1.dc_power', nominal);
  /** Ω of each battery at 20 °C (curve of the example, halfway between 15 °C and 25 °C), and of both poles of its cable. */
  const inner = 0.165 / 2;
  const loops = ['W1', 'W2'].map(tag => value(`${tag}.loss`, nominal) / value(`${tag}.current`, nominal) ** 2);
  const rest = [0, 2.6, 0.1, 3.2, 0.5, 3.29, 0.9, 3.34, 1, 3.4].map((x, index) => (index % 2 === 0 ? x : 224 * x));
  const one = (tag: number, soc: number): string => `Cq${tag} soc${tag} 0 ${2 * 280 * 3600} IC=${soc}
Bq${tag} soc${tag} 0 I = i(Vm${tag})
Rq${tag} soc${tag} 0 1e12
Be${tag} e${tag} 0 V = pwl(v(soc${tag}), ${rest.join(',')})
R${tag} e${tag} m${tag} ${inner}
Vm${tag} m${tag} n${tag} 0
Rc${tag} n${tag} b ${loops[tag - 1]}`;
  const circuit = (soc: number, control: string): string => `packs
${one(1, soc)}
${one(2, soc)}
Bload b 0 I = ${power}/max(v(b),400)
Cs b 0 1e-6 IC=${224 * 3.2}
.options method=gear reltol=1e-5 abstol=1e-6 vntol=1e-6
.control
${control}
.endc
.end`;

  test.each([
    ['top', 0.9],
    ['bottom', 0.1],
  ])('divides the current as the circuit does at the %s', (_, soc) => {
    const simulated = runNgspice(
      circuit(soc, 'tran 1m 0.1 0 1m uic\nmeas tran first find i(Vm1) at=0.09\nmeas tran second find i(Vm2) at=0.09'),
    );
    const there = (row: ValueRow): boolean => nominal(row) && Math.abs((row.point?.soc ?? 0) - soc) < 1e-9;
    near('current of a battery in a plant')(value('B1.current', there), simulated.get('first')!, 1e-4);
    near('current of a battery in a plant')(value('B2.current', there), simulated.get('second')!, 1e-4);
  });

  test('lasts as long as the circuit does', () => {
    const simulated = runNgspice(
      circuit(
        0.9,
        'tran 1 20000 0 1 uic\nmeas tran first when v(soc1)=0.1 cross=1\nmeas tran second when v(soc2)=0.1 cross=1',
      ),
    );
    const [first, second] = [simulated.get('first')!, simulated.get('second')!];
    // The nearer one is emptied a little sooner; at the engine's time both are about there.
    for (const tag of ['B1', 'B2']) {
      const time = value(`${tag}.discharge_time`, nominal);
      expect(time).toBeGreaterThan(first);
      expect(time).toBeLessThan(second);
      near('time of a run')(time, first, 1e-2);
    }
  });
});
