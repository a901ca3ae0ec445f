// A battery emptied at constant power and filled with a taper, against the circuit simulator ngspice.
//
// The circuit solves for the voltage at the terminals by itself: its load is P/U, its charger an ideal limited source.
// Below 400 V the load takes no more current, which leaves the circuit one solution and is never reached here.
// The charge that has flowed stands as a voltage on a capacitor, from which open-circuit voltage and resistance follow.

import { describe, expect, test } from 'vitest';
import { charge } from '../../engine/physics/charge.ts';
import { discharge } from '../../engine/physics/discharge.ts';
import { runNgspice } from '../kit/ngspice.ts';
import { comparedWith } from '../kit/reference.ts';

type Points = readonly (readonly [soc: number, value: number])[];

/** Invented: 224 cells in series, four strings. */
const rest: Points = [
  [0, 2.6],
  [0.1, 3.2],
  [0.5, 3.29],
  [0.9, 3.34],
  [1, 3.4],
].map(([soc, volts]) => [soc!, 224 * volts!] as const);
const flat: Points = [
  [0, 0.04],
  [1, 0.04],
];
const steep: Points = [
  [0, 0.09],
  [0.3, 0.05],
  [1, 0.035],
];
const capacity = 4 * 280 * 3600;

const at =
  (points: Points) =>
  (soc: number): number => {
    const index = Math.max(
      1,
      points.findIndex(([x]) => x >= soc),
    );
    const [[x0, y0], [x1, y1]] = [points[index - 1]!, points[index]!];
    return y0 + ((y1 - y0) * (soc - x0)) / (x1 - x0);
  };

const table = (points: Points): string => points.flat().join(',');

/** `flow` is the current out of the battery, as the simulator writes it. Time runs in units of a second. */
const circuit = (resistance: Points, from: number, flow: string, until: string, longest: number): string => `battery
Cq soc 0 ${capacity} IC=${from}
Bq soc 0 I = i(Vm)
Rq soc 0 1e12
Be e 0 V = pwl(v(soc), ${table(rest)})
Br e m V = i(Vm)*pwl(v(soc), ${table(resistance)})
Vm m b 0
Bload b 0 I = ${flow}
Cs b 0 1e-6 IC=${at(rest)(from)}
Bw w 0 V = v(b)*i(Vm)
.options method=gear reltol=1e-5 abstol=1e-6 vntol=1e-6
.control
tran 1 ${longest} 0 1 uic
meas tran ends ${until}
meas tran work integ v(w) from=0 to=ends
.endc
.end`;

const facts = (resistance: Points) => ({
  emf: at(rest),
  resistance: at(resistance),
  capacity,
  knots: [...rest, ...resistance].map(([soc]) => soc),
});

const near = (quantity: string) =>
  comparedWith({
    quantity: `battery: ${quantity}`,
    source: 'ngspice, transient analysis',
    evidence: 'outside program',
  });

const free = { voltageMin: 0, currentMax: () => Number.POSITIVE_INFINITY };

describe.each([
  ['one resistance', flat],
  ['a resistance that grows towards empty', steep],
])('emptied at constant power, %s', (_, resistance) => {
  test.each([100e3, 400e3, 900e3])('%d W down to a tenth', power => {
    const measured = runNgspice(
      circuit(
        resistance,
        0.9,
        `${power}/max(v(b),400)`,
        'when v(soc)=0.1 cross=1',
        (1.2 * 0.8 * capacity * 750) / power,
      ),
    );
    const found = discharge({ ...facts(resistance), ...free, power, socFrom: 0.9, socTo: 0.1 });
    expect(found.stopped).toBe('soc');
    near('time of a run')(found.time, measured.get('ends')!, 1e-3);
    near('energy of a run')(found.energy, measured.get('work')!, 1e-3);
  });

  test('down to the least voltage', () => {
    const measured = runNgspice(circuit(resistance, 0.9, '600e3/max(v(b),400)', 'when v(b)=690 fall=1', 6000));
    const limits = { voltageMin: 690, currentMax: () => Number.POSITIVE_INFINITY };
    const found = discharge({ ...facts(resistance), ...limits, power: 600e3, socFrom: 0.9, socTo: 0 });
    expect(found.stopped).toBe('voltage');
    near('time of a run')(found.time, measured.get('ends')!, 1e-3);
  });
});

describe.each([
  ['one resistance', flat],
  ['a resistance that grows towards empty', steep],
])('filled, %s', (_, resistance) => {
  test('at constant current until the greatest voltage, then with a taper', () => {
    // The charger: 300 A at most, and so stiff at 752 V that a milliohm would be a hundred times as soft.
    const flow = '-min(300, max(0, 1e5*(752-v(b))))';
    const measured = runNgspice(circuit(resistance, 0.1, flow, 'when v(soc)=0.92 cross=1', 30_000));
    const found = charge({
      ...facts(resistance),
      currentLimit: () => 300,
      voltageMax: 752,
      socFrom: 0.1,
      socTo: 0.92,
    });
    expect(found.stopped).toBe('soc');
    expect(found.taper).toBeDefined();
    near('time of a run')(found.time, measured.get('ends')!, 1e-3);
    near('energy of a run')(found.energy, -measured.get('work')!, 1e-3);
  });

  test('at constant power', () => {
    const measured = runNgspice(circuit(resistance, 0.1, '-250e3/max(v(b),400)', 'when v(soc)=0.9 cross=1', 14_000));
    const bounds = { currentLimit: () => 1e4, voltageMax: 1e4 };
    const found = charge({ ...facts(resistance), ...bounds, power: 250e3, socFrom: 0.1, socTo: 0.9 });
    near('time of a run')(found.time, measured.get('ends')!, 1e-3);
  });
});
