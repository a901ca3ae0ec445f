// Converters that reach the batteries they share by unlike ways: one net of cables, whichever way round it is told.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { chopperText } from '../../kit/choppers.ts';
import { notesIn } from '../../kit/mistakes.ts';
import { type Analysed, analysed, complaints, type Edit, edited, findingsOf, worst } from '../../kit/plants.ts';

const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
const battery = (tag: string, count: number): string =>
  edited(block, ['B1', tag], ['strings = 4', `strings = ${count}`]);
const run = (tag: string, metres: number): string =>
  `cable ${tag} { length = ${metres} m, cross_section = 240 mm², parallel = 2, conductor = copper }\n`;
const value = (plant: Analysed, name: string): number => worst(plant, name).value;

/** Two converters behind one transformer, and what `connect` says of their direct-current side. */
function pair([first, second]: readonly [number, number], lines: string, ...edits: readonly Edit[]): Analysed {
  const twin = `filter F2 { converter_inductance = 100 µH, capacitance = 150 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz, carriers = synchronised }
bus N1 {}\nconnect MAIN -> T1 -> N1 -> F1 -> K1\nconnect N1 -> F2 -> K2\n`;
  return analysed(
    edited(
      soundExample,
      ['strings = 4', `strings = ${first}`],
      ['capacitance = 300 µF', 'capacitance = 150 µF'],
      ['  switching_frequency = 4 kHz\n', '  switching_frequency = 4 kHz\n  carriers = synchronised\n'],
      [chain, `${battery('B2', second)}${twin}${lines}`],
      ...edits,
    ),
  );
}

/** A battery at each end of a bus in two sections, a converter at each end, and a tie of so many metres. */
const tied = (metres: number, wires = ''): string =>
  `bus D1 {}\nbus D2 {}\n${run('W3', metres)}${wires}connect K1 -> D1 -> B1\nconnect K2 -> D2 -> B2\nconnect D1 -> W3 -> D2`;

describe('two sections with a tie', () => {
  const apart = pair([2, 2], 'connect K1 -> B1\nconnect K2 -> B2');
  const halves = pair([2, 2], tied(30));

  it('are nothing to complain of, and wholly evaluated', () => {
    expect(complaints(halves).map(({ message }) => message)).toEqual([]);
    expect(notesIn(halves, 'not_evaluated')).toEqual([]);
  });

  it('of equal halves are like two lines for themselves, and the tie idles', () => {
    for (const name of [
      'K1.dc_current',
      'K2.dc_voltage_min',
      'K1.dc_voltage_max',
      'B1.current',
      'B2.loss',
      'B1.energy',
    ])
      expect(value(halves, name) / value(apart, name), name).toBeCloseTo(1, 9);
    expect(value(halves, 'W3.current')).toBeCloseTo(0, 6);
    expect(value(halves, 'W3.loss')).toBeCloseTo(0, 6);
  });

  it('of unequal batteries: the larger one helps through the tie, as Kirchhoff has it', () => {
    const plant = pair([3, 1], tied(30));
    // By hand, K1 beside the battery of three strings and K2 beside the one: what each draws divides between the two ways.
    const inner = value(plant, 'B1.inner_resistance');
    const loop = value(plant, 'W3.loss') / value(plant, 'W3.current') ** 2;
    const [near, far] = [value(plant, 'K1.dc_current'), value(plant, 'K2.dc_current')];
    const first = (near * (loop + 3 * inner) + far * 3 * inner) / (loop + 4 * inner);
    expect(value(plant, 'B1.current')).toBeCloseTo(first, 6);
    expect(value(plant, 'B2.current')).toBeCloseTo(near + far - first, 6);
    expect(value(plant, 'W3.current')).toBeCloseTo(first - near, 6);
    // Of equal powers the converter at the lower voltage draws more, in inverse proportion to the voltage.
    expect(far / near).toBeCloseTo(value(plant, 'K1.dc_voltage_min') / value(plant, 'K2.dc_voltage_min'), 9);
    expect(value(plant, 'K1.dc_voltage_min')).toBeGreaterThan(value(plant, 'K2.dc_voltage_min') + 0.2);
  });
});

describe('converters of unlike powers on two sections', () => {
  const poor: Edit = ['K2 { ac_current = 850 A,', 'K2 { ac_current = 850 A, efficiency = 90 %,'];
  const good: Edit = ['ac_current = 850 A\n', 'ac_current = 850 A\n  efficiency = 99 %\n'];
  const plant = pair([2, 2], tied(30), poor, good);

  it('draw each its own: what the one with more loss wants besides comes through the tie as well', () => {
    const [near, far] = [value(plant, 'K1.dc_current'), value(plant, 'K2.dc_current')];
    const [one, other] = [value(plant, 'B1.current'), value(plant, 'B2.current')];
    expect(far / near).toBeGreaterThan(1.09);
    expect(one + other).toBeCloseTo(near + far, 6);
    expect(one - near).toBeCloseTo(value(plant, 'W3.current'), 6);
    expect(one - near).toBeGreaterThan(10);
  });

  it('lose in batteries and cables what lies between the powers of the cells and of the converters', () => {
    const powers = value(plant, 'K1.dc_power') + value(plant, 'K2.dc_power');
    const losses = ['B1.loss', 'B2.loss', 'W3.loss'].reduce((sum, name) => sum + value(plant, name), 0);
    const rest = 224 * 3.2;
    expect(powers + losses).toBeCloseTo(rest * (value(plant, 'B1.current') + value(plant, 'B2.current')), 3);
  });

  it('are said to share by their ratings over a whole run, which nobody else is', () => {
    const said = 'what each of K1 and K2 draws from their net of cables over a whole run';
    expect(plant.analysis.notChecked.join('\n')).toContain(said);
    expect(pair([2, 2], 'connect K1 -> B1\nconnect K2 -> B2').analysis.notChecked.join('\n')).not.toContain(
      'net of cables',
    );
  });

  it('that can’t all be served have no current, and are told', () => {
    const weak = pair([2, 2], tied(30), ['discharge = 400 kW', 'discharge = 40 MW']);
    const known = weak.analysis.values.all('K1.dc_current').filter(({ value: current }) => current !== undefined);
    expect(known.map(({ point }) => point.duty)).not.toContain('start_peak');
    expect(complaints(weak).length).toBeGreaterThan(0);
  });
});

describe('a net that could be told as a tree', () => {
  const runs = run('W1', 10) + run('W2', 40);
  const tree = pair([2, 2], `bus D1 {}\n${runs}connect K1 -> D1 -> W1 -> B1\nconnect K2 -> D1 -> W2 -> B2`);
  const net = pair(
    [2, 2],
    `bus D1 {}\nbus D2 {}\n${runs}connect K1 -> D1 -> W1 -> B1\nconnect K2 -> D2 -> W2 -> B2\nconnect D1 -> D2`,
  );

  it.each([
    'K1.dc_current',
    'K2.dc_voltage_min',
    'K1.dc_voltage_max',
    'B1.current',
    'B2.current',
    'W1.current',
    'W2.current',
    'W2.loss',
    'B1.discharge_time',
    'B2.power_by_soc',
    'B1.full_power_soc',
    'T1.winding_max_load',
    'start_peak.total_loss',
    'start_peak.efficiency',
    'K1.diode_margin',
  ])('has the same %s', name => expect(value(net, name) / value(tree, name)).toBeCloseTo(1, 8));

  it('has the same outline of what a converter can do', () => {
    const outline = (plant: Analysed) =>
      plant.analysis.values.capability('K1')!.outlines.flatMap(({ points }) => points);
    for (const [index, point] of outline(tree).entries())
      expect(outline(net)[index]!.active).toBeCloseTo(point.active, 2);
  });

  it('has the same current through blocked diodes', () => {
    const high: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'];
    const lines = (middle: string) =>
      `bus D1 {}\n${middle}${runs}connect K1 -> D1 -> W1 -> B1\nconnect K2 -> ${middle === '' ? 'D1' : 'D2'} -> W2 -> B2`;
    const [one, other] = [
      pair([2, 2], lines(''), high),
      pair([2, 2], `${lines('bus D2 {}\n')}\nconnect D1 -> D2`, high),
    ];
    for (const name of ['K1.diode_current', 'K2.diode_current_peak', 'K1.diode_charge_blocking'])
      expect(value(other, name) / value(one, name), name).toBeCloseTo(1, 6);
  });

  it('equalises alike', () => {
    const cells: Edit = ['cells_in_series = 224', 'cells_in_series = 220'];
    const [one, other] = [false, true].map(isNet =>
      pair(
        [2, 2],
        `bus D1 {}\nbus D2 {}\n${runs}connect K1 -> D1 -> W1 -> B1\nconnect K2 -> ${isNet ? 'D2' : 'D1'} -> W2 -> B2${isNet ? '\nconnect D1 -> D2' : ''}`,
        cells,
      ),
    );
    expect(value(other!, 'K1.equalising_current') / value(one!, 'K1.equalising_current')).toBeCloseTo(1, 9);
    expect(findingsOf(other!, 'pack_mismatch').length).toBeGreaterThan(0);
  });
});

describe('further nets', () => {
  it('one converter may reach all batteries, and another only some', () => {
    const all = pair([2, 2], 'bus D1 {}\nconnect K1 -> D1 -> B1\nconnect K2 -> D1 -> B2');
    const some = pair([2, 2], 'connect K1 -> B1\nconnect K1 -> B2\nconnect K2 -> B2');
    expect(complaints(some).map(({ message }) => message)).toEqual([]);
    expect(notesIn(some, 'not_evaluated')).toEqual([]);
    for (const name of ['K1.dc_current', 'K2.dc_current', 'B1.current', 'B2.discharge_time'])
      expect(value(some, name) / value(all, name), name).toBeCloseTo(1, 9);
  });

  it('a ring carries on both of its sides', () => {
    const ring = pair([3, 1], tied(30, `${run('W4', 30)}connect D1 -> W4 -> D2\n`));
    const single = pair([3, 1], tied(15));
    expect(value(ring, 'W3.current')).toBeCloseTo(value(ring, 'W4.current'), 9);
    expect(2 * value(ring, 'W3.current')).toBeCloseTo(value(single, 'W3.current'), 6);
    expect(value(ring, 'B2.current')).toBeCloseTo(value(single, 'B2.current'), 6);
  });

  it('with one unit lost the other takes all, from both batteries', () => {
    const lost: Edit = ['for 45 min,', 'for 45 min, lost = unit,'];
    const plant = pair([2, 2], tied(30), lost);
    const at = (name: string) =>
      plant.analysis.values
        .all(name)
        .find(({ point, value: known }) => point.duty === 'start_peak' && known !== undefined)!.value!;
    expect(at('K2.dc_current')).toBeCloseTo(at('B1.current') + at('B2.current'), 6);
    expect(at('W3.current')).toBeCloseTo(at('B1.current'), 6);
    expect(at('B2.current')).toBeGreaterThan(at('B1.current'));
  });

  it('a chopper inside is noted, and each is judged with its nearest battery', () => {
    const lines = `${chopperText}\nbus D1 {}\nbus D2 {}\nconnect K1 -> D1 -> B1\nconnect K2 -> D2 -> B2\nconnect D1 -> Q1 -> D2`;
    const notes = findingsOf(pair([2, 2], lines), 'not_evaluated').map(({ message }) => message);
    expect(notes.some(message => message.includes('K1 is judged with B1 alone'))).toBe(true);
    expect(notes.some(message => message.includes('K2 is judged with B2 alone'))).toBe(true);
  });

  it('so is a cable whose ends can’t be told apart', () => {
    const lines = `bus D1 {}\n${run('W1', 10)}connect K1 -> W1 -> B1\nconnect W1 -> D1 -> B2\nconnect K2 -> D1`;
    const notes = findingsOf(pair([2, 2], lines), 'not_evaluated').map(({ message }) => message);
    expect(notes.join('\n')).toContain('A net of batteries that not all of their converters reach alike');
  });
});
