// Several batteries side by side on one converter: they share by their resistances, and last as long as one of their size.
import { describe, expect, it } from 'vitest';
import type { ValueRow } from '../../../engine/analysis.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { chopperText } from '../../kit/choppers.ts';
import { notesIn } from '../../kit/mistakes.ts';
import { type Analysed, analysed, complaints, type Edit, edited, findingsOf, worst } from '../../kit/plants.ts';

const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
const battery = (tag: string, ...edits: readonly Edit[]): string => edited(block.replace('B1', tag), ...edits);
const run = (tag: string, metres: number): string =>
  `cable ${tag} { length = ${metres} m, cross_section = 240 mm², parallel = 2, conductor = copper }\n`;

const strings = (count: number): Edit => ['strings = 4', `strings = ${count}`];
/** So that something is to be had of a year. */
const daily: Edit = ['for 45 min,', 'for 45 min every 6 h,'];
const alone = (...edits: readonly Edit[]): Analysed => analysed(edited(soundExample, daily, ...edits));

/** The sound example's battery in two, on the terminals of the converter or behind the lines that `connect` adds. */
function inTwo(
  [first, second]: readonly [number, number],
  lines = `${chain}\nconnect K1 -> B2`,
  ...edits: readonly Edit[]
) {
  return analysed(
    edited(soundExample, [chain, `${battery('B2', strings(second))}${lines}`], strings(first), daily, ...edits),
  );
}

const value = (plant: Analysed, name: string): number => worst(plant, name).value;

describe('one battery in two', () => {
  const [whole, halves] = [alone(), inTwo([2, 2])];

  it('is nothing to complain of', () => expect(complaints(halves).map(({ message }) => message)).toEqual([]));

  it.each(['dc_voltage_min', 'dc_voltage_max', 'dc_current', 'diode_margin', 'control_margin', 'voltage_reserve'])(
    'is the same to the converter: %s',
    name => expect(value(halves, `K1.${name}`)).toBeCloseTo(value(whole, `K1.${name}`), 9),
  );

  it.each(['string_current', 'voltage_min', 'voltage_max', 'discharge_time', 'full_power_soc', 'refill_time'])(
    'is the same to each string: %s',
    name => {
      for (const tag of ['B1', 'B2'])
        expect(value(halves, `${tag}.${name}`)).toBeCloseTo(value(whole, `B1.${name}`), 7);
    },
  );

  it.each(['current', 'loss', 'energy', 'yearly_throughput', 'power_by_soc'])(
    'has halves of all it gives: %s',
    name => {
      for (const tag of ['B1', 'B2'])
        expect(value(halves, `${tag}.${name}`) / value(whole, `B1.${name}`)).toBeCloseTo(0.5, 9);
    },
  );

  it('loses and comes back alike', () => {
    expect(value(halves, 'start_peak.total_loss')).toBeCloseTo(value(whole, 'start_peak.total_loss'), 4);
    expect(value(halves, 'start_peak.efficiency')).toBeCloseTo(value(whole, 'start_peak.efficiency'), 9);
    expect(value(halves, 'B2.round_trip_efficiency')).toBeCloseTo(value(whole, 'B1.round_trip_efficiency'), 9);
    // What comes back of a whole period takes what the converter loses without power.
    const lossy: Edit = ['ac_current = 850 A', 'ac_current = 850 A\n  fixed_loss = 1.2 kW, linear_loss = 8 V'];
    const net = (plant: Analysed): number => value(plant, 'start_peak.net_round_trip');
    expect(net(inTwo([2, 2], undefined, lossy))).toBeCloseTo(net(alone(lossy)), 9);
  });

  it('may be cut in unequal parts', () => {
    const parts = inTwo([3, 1]);
    expect(complaints(parts)).toEqual([]);
    expect(value(parts, 'B1.current') / value(parts, 'B2.current')).toBeCloseTo(3, 9);
    for (const tag of ['B1', 'B2'])
      expect(value(parts, `${tag}.discharge_time`)).toBeCloseTo(value(whole, 'B1.discharge_time'), 5);
  });
});

describe('behind cables of their own', () => {
  const lines = `bus D1 {}\n${run('W1', 10)}${run('W2', 40)}connect MAIN -> T1 -> F1 -> K1 -> D1 -> W1 -> B1\nconnect D1 -> W2 -> B2`;
  const plant = inTwo([2, 2], lines);

  it('the nearer one carries more, as Kirchhoff has it', () => {
    expect(complaints(plant)).toEqual([]);
    // Two strings of 0.14 Ω grown to 20 °C, and the loop of each cable.
    const inner = value(plant, 'B1.inner_resistance');
    const loop = (metres: number) => (value(plant, `W1.loss`) / value(plant, 'W1.current') ** 2 / 10) * metres;
    const share = value(plant, 'B1.current') / value(plant, 'B2.current');
    expect(share).toBeCloseTo((inner + loop(40)) / (inner + loop(10)), 6);
    expect(share).toBeGreaterThan(1.01);
  });

  it('each cable carries its battery’s current, the bus both', () => {
    for (const [cable, tag] of [
      ['W1', 'B1'],
      ['W2', 'B2'],
    ])
      expect(value(plant, `${cable}.current`)).toBeCloseTo(value(plant, `${tag}.current`), 9);
    expect(value(plant, 'B1.current') + value(plant, 'B2.current')).toBeCloseTo(value(plant, 'K1.dc_current'), 9);
  });
});

it('ways that part twice leave each battery its own part, whichever is found first', () => {
  // B1 and B3 share the first way; B3, at its end, lies further off than B2 on the other one.
  const third = battery('B3', strings(1));
  const lines = `${third}bus D1 {}\nbus D2 {}\n${run('W1', 10)}${run('W2', 20)}${run('W3', 120)}bus D3 {}
connect MAIN -> T1 -> F1 -> K1 -> D1 -> W1 -> D2 -> B1\nconnect D1 -> W2 -> D3 -> B2\nconnect D2 -> W3 -> D3X -> B3\nbus D3X {}`;
  const plant = inTwo([2, 1], lines);
  const at = (name: string): number =>
    plant.analysis.values
      .all(name)
      .find(
        ({ point }) =>
          point.duty === 'start_peak' &&
          point.voltage === 'nominal' &&
          point.direction === 'delivering' &&
          point.soc === 0.1,
      )!.value!;
  const drop = (tag: string): number => at(`${tag}.loss`) / at(`${tag}.current`);
  const common = at('K1.dc_voltage');
  expect(at('B1.voltage_min') - drop('W1')).toBeCloseTo(common, 6);
  expect(at('B2.voltage_min') - drop('W2')).toBeCloseTo(common, 6);
  expect(at('B3.voltage_min') - drop('W3') - drop('W1')).toBeCloseTo(common, 6);
  expect(at('W3.current')).toBeCloseTo(at('B3.current'), 9);
  expect(at('B1.current') + at('B3.current')).toBeCloseTo(at('W1.current'), 9);
});

describe('with the gates blocked', () => {
  const high: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'];
  const [whole, halves] = [alone(high), inTwo([2, 2], undefined, high)];

  it('the diodes charge both, with the current that would charge one', () => {
    const [found] = findingsOf(halves, 'uncontrolled_charging');
    expect(found).toMatchObject({ subject: 'K1', severity: 'error', hazard: true });
    expect(found!.message).toContain('charge B1 and B2');
    for (const name of ['diode_current', 'diode_current_peak', 'diode_stop_soc', 'diode_charge_blocking'])
      expect(value(halves, `K1.${name}`) / value(whole, `K1.${name}`), name).toBeCloseTo(1, 9);
  });

  it('the one that is connected furthest down counts', () => {
    const open: Edit = ['  lowest_connected = 0 %\n', '  lowest_connected = 60 %\n'];
    const one = inTwo([2, 2], undefined, open);
    expect(value(one, 'K1.diode_margin')).toBeCloseTo(value(inTwo([2, 2]), 'K1.diode_margin'), 12);
    expect(findingsOf(inTwo([2, 2], undefined, high, open), 'uncontrolled_charging')[0]?.message).toContain(
      'charge B2 and nothing',
    );
  });

  it('each is asked for its own floor', () => {
    const text = edited(soundExample, ['0 % 2.60 V', '0 % 2.40 V'], ['  lowest_connected = 0 %\n', '']);
    const low = text.slice(text.indexOf('battery B1 {'), text.indexOf('connect MAIN')).replace('B1', 'B2');
    const plant = analysed(edited(text, [chain, `${low}${chain}\nconnect K1 -> B2`]));
    expect(findingsOf(plant, 'connected_below_floor').map(({ subject }) => subject)).toEqual(['B1', 'B2']);
  });
});

describe('what a converter can do', () => {
  it('is the same with one battery or with two halves', () => {
    const outlines = (plant: Analysed) => plant.analysis.values.capability('K1')!.outlines.map(({ points }) => points);
    const [whole, halves] = [outlines(alone()).flat(), outlines(inTwo([2, 2])).flat()];
    expect(halves.length).toBe(whole.length);
    for (const [index, point] of whole.entries()) {
      expect(halves[index]!.active).toBeCloseTo(point.active, 3);
      expect(halves[index]!.limit).toBe(point.limit);
    }
  });

  it('ends where the weaker of two is at its limit', () => {
    const weak: Edit = ['discharge_current = 280 A', 'discharge_current = 100 A'];
    const limits = (plant: Analysed) => plant.analysis.values.capability('K1')!.outlines[1]!.points;
    const most = (plant: Analysed) => Math.max(...limits(plant).map(({ active }) => active));
    expect(most(inTwo([2, 2], undefined, weak)) / most(alone(weak))).toBeCloseTo(1, 6);
  });
});

describe('further arrangements', () => {
  it('a chopper may stand before both', () => {
    const split = (second: string) =>
      analysed(
        edited(
          soundExample,
          ['cells_in_series = 224', 'cells_in_series = 112'],
          ['strings = 4', second === '' ? 'strings = 8' : 'strings = 4'],
          [chain, `${chopperText}\n\n${second}bus D1 {}\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> D1 -> B1`],
          ...(second === '' ? [] : ([['D1 -> B1', 'D1 -> B1\nconnect D1 -> B2']] as const)),
        ),
      );
    const half = battery('B2', ['cells_in_series = 224', 'cells_in_series = 112']);
    const [whole, halves] = [split(''), split(half)];
    expect(complaints(halves).map(({ message }) => message)).toEqual([]);
    for (const name of [
      'Q1.store_voltage_min',
      'Q1.store_voltage_max',
      'Q1.current',
      'B1.string_current',
      'D1.voltage_low',
    ])
      expect(value(halves, name) / value(whole, name), name).toBeCloseTo(1, 9);
  });

  it('several converters may share several batteries', () => {
    const filter = 'filter F2 { converter_inductance = 100 µH, capacitance = 150 µF, damping_resistance = 60 mΩ }\n';
    const twin = `${filter}converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz, carriers = synchronised }
bus N1 {}\nbus N2 {}\nconnect MAIN -> T1 -> N1 -> F1 -> K1 -> N2 -> B1\nconnect N1 -> F2 -> K2 -> N2\n`;
    const edits: readonly Edit[] = [
      ['capacitance = 300 µF', 'capacitance = 150 µF'],
      ['  switching_frequency = 4 kHz\n', '  switching_frequency = 4 kHz\n  carriers = synchronised\n'],
    ];
    const [whole, halves] = [alone([chain, twin], ...edits), inTwo([2, 2], `${twin}connect N2 -> B2`, ...edits)];
    expect(complaints(halves).map(({ message }) => message)).toEqual([]);
    for (const name of ['K1.dc_current', 'K2.dc_voltage_min', 'B1.string_current', 'B1.discharge_time'])
      expect(value(halves, name) / value(whole, name), name).toBeCloseTo(1, 9);
  });

  it('a duty may be asked at one of them: the others do their part beside it', () => {
    const asked = (power: string): Edit => ['discharge = 400 kW', `discharge = ${power}, at = B1`];
    const [whole, halves] = [alone(asked('400 kW')), inTwo([2, 2], undefined, asked('200 kW'))];
    expect(value(halves, 'K1.dc_power')).toBeCloseTo(value(whole, 'K1.dc_power'), 6);
  });

  it('what both can do over the state of charge closes with the cables between', () => {
    const lines = `bus D1 {}\n${run('W1', 10)}${run('W2', 40)}connect MAIN -> T1 -> F1 -> K1 -> D1 -> W1 -> B1\nconnect D1 -> W2 -> B2`;
    const weak: Edit = ['discharge_current = 280 A', 'discharge_current = 150 A'];
    const plant = inTwo([2, 2], lines, weak);
    const row = plant.analysis.values
      .all('B1.power_by_soc')
      .find(({ point }: ValueRow) => point?.duty === 'start_peak')!;
    // At its own limit of two strings of 150 A, less what drops at their resistance at the bottom of the span.
    const inner = value(plant, 'B1.inner_resistance');
    expect(row.value!).toBeCloseTo(300 * (value(plant, 'B1.rest_voltage_min') - 300 * inner), 3);
  });

  it('a chopper for one of them is noted, and one is judged alone', () => {
    const lines = `${chopperText}\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> B2\nconnect K1 -> B1`;
    expect(notesIn(inTwo([2, 2], lines), 'not_evaluated')).toContain('not_evaluated at "B2"');
  });
});
