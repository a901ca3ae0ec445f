// What is read but not evaluated yet: one note says so, nothing else complains, and all other results stay.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesOf, notesIn } from '../../kit/mistakes.ts';
import { type Analysed, analysed, complaints, type Edit, edited, worst } from '../../kit/plants.ts';

const notesOf = (plant: Analysed) => notesIn(plant, 'not_evaluated').filter(note => !usual.has(note));
const usual = new Set(notesIn(analysed(soundExample), 'not_evaluated'));

const converter =
  'converter K1 {\n  ac_current = 850 A\n  dc_voltage = 550 V .. 850 V\n  switching_frequency = 4 kHz\n}';
const range =
  '\ncatalogue converter Range {\n  k550 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }\n}\n';
const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';

describe('one note and nothing else', () => {
  it.each<[string, Edit, string, string]>([
    ['a picked part', [converter, `converter K1 is pick Range${range}`], 'is pick Range', 'T1.ratio'],
    ['a picked value', ['= 360 V', '= pick from (340 V, 360 V)'], 'pick from (340 V, 360 V)', 'B1.rest_voltage_min'],
    [
      'a catalogue in a file of its own',
      [converter, 'converter K1 is Range.k550\n\ncatalogue converter Range from "range.csv"'],
      '"range.csv"',
      'T1.ratio',
    ],
    ['a load profile', [chain, `duty day { profile = "day.csv" }\n\n${chain}`], 'day', 'K1.loading'],
    [
      'a fuse',
      [chain, `fuse X1 { rated_current = 900 A }\nconnect MAIN -> T1 -> F1 -> K1 -> X1 -> B1`],
      'X1',
      'K1.loading',
    ],
  ])('%s', (_, edit, marked, stays) => {
    const plant = analysed(edited(soundExample, edit));
    expect(complaints(plant)).toEqual([]);
    expect(notesOf(plant)).toEqual([`not_evaluated at "${marked}"`]);
    expect(worst(plant, stays).value).toBeGreaterThan(0);
  });

  it('a property that no result reads is named in the note of its component', () => {
    const plant = analysed(edited(soundExample, ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  screen = yes']));
    expect(complaints(plant)).toEqual([]);
    const [note] = plant.analysis.findings.filter(({ code, subject }) => code === 'not_evaluated' && subject === 'T1');
    expect(note?.message).toContain('`screen`');
  });
});

describe('behind a chopper that states no voltage', () => {
  it('nothing is taken as the voltage of the battery', () => {
    const plant = analysed(
      edited(soundExample, [chain, `chopper C1 { current = 900 A }\nconnect MAIN -> T1 -> F1 -> K1 -> C1 -> B1`]),
    );
    expect(complaints(plant).map(({ code, subject }) => `${code} ${subject}`)).toEqual(['missing_fact C1']);
    expect(plant.analysis.values.worst('K1.dc_voltage_min')?.value).toBeUndefined();
    expect(plant.analysis.values.worst('K1.diode_margin')?.value).toBeUndefined();
  });
});

describe('several networks on one converter', () => {
  const second = 'grid B2 { voltage = 400 V ± 10 %, frequency = 50 Hz ± 1 %, fault_power = 9 MVA, x_over_r = 5 }';
  it('are noted', () => {
    const plant = analysed(edited(soundExample, [chain, `${second}\n\n${chain}\nconnect B2 -> T1`]));
    expect(notesOf(plant)).toContain('not_evaluated at "B2"');
  });
});

describe('a pick', () => {
  const rated = (text: string): Edit => ['rated_power = 500 kVA', `rated_power = ${text}`];

  it('of a preferred rating is made, and shown', () => {
    const shares = [
      ['load_loss = 5.8 kW', 'load_loss = 1.2 %'],
      ['no_load_loss = 800 W', 'no_load_loss = 0.2 %'],
    ] as const;
    const plant = analysed(edited(soundExample, rated('pick'), ...shares));
    expect(complaints(plant)).toEqual([]);
    expect(plant.analysis.picks.map(({ subject, property, text }) => [subject, property, text])).toEqual([
      ['T1', 'rated_power', '500 kVA'],
    ]);
  });

  it('for which nothing holds is one finding, at the pick', () => {
    expect(mistakesOf(rated('pick'), ['discharge = 400 kW for', 'discharge = 4000 GW for'])).toContain(
      'missing_fact at "pick"',
    );
    const plant = analysed(edited(soundExample, rated('pick'), ['discharge = 400 kW for', 'discharge = 4000 GW for']));
    expect(plant.analysis.picks[0]?.text).toBeUndefined();
  });

  it.each<[string, Edit, string]>([
    ['of what can not be picked', ['altitude = 900 m', 'altitude = pick'], 'wrong_value at "pick"'],
    ['of what has no preferred values', ['= 360 V', '= pick'], 'wrong_value at "pick"'],
    ['from values of another dimension', ['= 360 V', '= pick from (340 A, 360 V)'], 'wrong_dimension at "340 A"'],
    ['from a catalogue that is misspelt', [converter, `converter K1 is pick Rang${range}`], 'unknown_name at "Rang"'],
    ['from a part', [converter, 'converter K1 is pick P\npart converter P { ac_current = 5 A }'], 'wrong_value at "P"'],
    [
      'from a catalogue of another kind',
      [converter, `converter K1 is pick C\ncatalogue cable C { }`],
      'wrong_value at "C"',
    ],
    ['from nothing', [converter, 'converter K1 is pick'], 'syntax at "pick"'],
    ['inside an expression', rated('2 * pick'), 'wrong_value at "pick"'],
    ['of a word', ['x_over_r = 5', 'x_over_r = 5\n  earthing = pick'], 'wrong_value at "pick"'],
  ])('%s is one mistake', (_, edit, expected) => expect(mistakesOf(edit)).toEqual([expected]));
});
