// Facts: they read facts and never results, choices look nothing up, references always do, provenance goes with them.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { messagesOf, mistakesOf, mistakesWith } from '../../kit/mistakes.ts';
import { analysed, type Edit, edited, worst } from '../../kit/plants.ts';

const secondary = (text: string): Edit => ['secondary_voltage = 360 V', `secondary_voltage = ${text}`];
const inGrid = (line: string): Edit => ['x_over_r = 5', `x_over_r = 5\n  ${line}`];

describe('a fact that reads facts', () => {
  it('takes their value, wherever they stand', () => {
    const plant = analysed(edited(soundExample, secondary('0.9 * T1.primary_voltage')));
    expect(worst(plant, 'T1.ratio').value).toBeCloseTo(worst(analysed(soundExample), 'T1.ratio').value, 9);
  });

  it('takes what the tool assumes as well', () => {
    expect(mistakesWith('require MountainStation.altitude == 900 m\nrequire T1.no_load_current == 1 %')).toEqual([]);
  });

  it('takes the facts of house rules', () => {
    expect(mistakesWith('require HouseRules.transformer_spare == 5 %')).toEqual([]);
  });

  it.each([
    ['itself', '0.9 * T1.secondary_voltage', 'cycle at "secondary_voltage"'],
    ['a result', '400 V * T1.loading', 'wrong_value at "loading"'],
    ['a word', 'T1.neutral', 'wrong_value at "neutral"'],
    ['what nobody states', 'F1.rated_current * 1 Ω', 'unknown_name at "rated_current"'],
    ['a misspelt fact', '0.9 * T1.primary_voltag', 'unknown_property at "primary_voltag"'],
    ['a misspelt component', '0.9 * T2.primary_voltage', 'unknown_name at "T2.primary_voltage"'],
    ['a component as a whole', 'T1', 'wrong_value at "T1"'],
  ])('but not %s', (_, text, expected) => expect(mistakesOf(secondary(text))).toEqual([expected]));

  it('is silent where the other one failed', () => {
    expect(
      mistakesOf(secondary('0.9 * T1.primary_voltage'), ['primary_voltage = 400 V', 'primary_voltage = 400 A']),
    ).toEqual(['wrong_dimension at "400 A"']);
  });

  it('in a circle of two is told once', () => {
    const back: Edit = ['primary_voltage = 400 V', 'primary_voltage = T1.secondary_voltage / 0.9'];
    expect(mistakesOf(secondary('0.9 * T1.primary_voltage'), back)).toEqual(['cycle at "primary_voltage"']);
  });

  it('says what would be right', () => {
    expect(messagesOf(secondary('T1'))).toEqual([
      '`T1` is a transformer; a number is one of its facts, such as `T1.rated_power`.',
    ]);
    expect(messagesOf(secondary('0.9 * T2.primary_voltage'))[0]).toContain('did you mean `T1.primary_voltage`?');
    expect(messagesOf(secondary('0.9 * T1.primary_voltag'))[0]).toContain('did you mean `primary_voltage`?');
  });
});

describe('a result', () => {
  it('is read in a requirement', () => expect(mistakesWith('require T1.loading * 2 <= 190 %')).toEqual([]));
  it('is not read in a let', () => expect(mistakesWith('let x = T1.loading')).toEqual(['wrong_value at "loading"']));
});

describe('a choice', () => {
  it('looks no name up', () => {
    expect(mistakesOf(inGrid('earthing = tn'), ['grid MAIN', 'let tn = 5 V\n\ngrid MAIN'])).toEqual([]);
  });

  it.each([
    ['tnn', 'did you mean `tn`? It is one of `tn`, `tt`, `it`.'],
    ['5', '`earthing` is one of `tn`, `tt`, `it`.'],
    ['"tn"', '`earthing` is one of `tn`, `tt`, `it`.'],
    ['MAIN.voltage', '`earthing` is one of `tn`, `tt`, `it`.'],
  ])('%s is none', (text, message) => {
    expect(mistakesOf(inGrid(`earthing = ${text}`))).toEqual([`wrong_value at "${text}"`]);
    expect(messagesOf(inGrid(`earthing = ${text}`))[0]).toContain(message);
  });
});

describe('a reference', () => {
  const at = (text: string): Edit => ['power_factor = 0.95', `power_factor = 0.95, at = ${text}`];
  const follows = (text: string): Edit => ['follows = HouseRules', `follows = ${text}`];

  it('names a component of a kind that fits', () => expect(mistakesOf(at('MAIN'))).toEqual([]));

  it.each<[string, Edit, string]>([
    ['a misspelt tag', at('MIAN'), 'unknown_name at "MIAN"'],
    ['no tag at all', at('XYZ'), 'unknown_name at "XYZ"'],
    ['a tag of another kind', at('F1'), 'wrong_value at "F1"'],
    ['a number', at('5'), 'wrong_value at "5"'],
    ['a fact', at('MAIN.voltage'), 'unknown_name at "MAIN.voltage"'],
    ['a misspelt practice', follows('HouseRule'), 'unknown_name at "HouseRule"'],
    ['a component as practice', follows('T1'), 'wrong_value at "T1"'],
    ['a text', follows('"HouseRules"'), 'wrong_value at ""HouseRules""'],
  ])('not %s', (_, edit, expected) => expect(mistakesOf(edit)).toEqual([expected]));

  it('gets the nearest of those that fit', () => {
    expect(messagesOf(at('MIAN'))[0]).toContain('did you mean `MAIN`?');
    expect(messagesOf(follows('HouseRule'))[0]).toContain('did you mean `HouseRules`?');
  });
});

describe('provenance', () => {
  const provenanceOf = (text: string, value: string, fact: string): string | undefined => {
    const { analysis } = analysed(text);
    const derivation = analysis.values.explain({ name: value, point: undefined });
    return derivation?.inputs.find(input => input.name === fact)?.provenance;
  };
  const rating = (text: string) => edited(soundExample, ['rated_power = 500 kVA', `rated_power = ${text}`]);

  it.each([
    ['500 kVA', /^stated$/],
    ['500 kVA from "data sheet, page 3"', /^stated: data sheet, page 3$/],
    ['500 kVA assumed', /^assumed by the author$/],
    ['500 kVA assumed "as the last time"', /^assumed by the author: as the last time$/],
    ['pick', /^picked/],
  ])('of %s', (text, expected) => {
    expect(provenanceOf(rating(text), 'T1.series_reactance', 'T1.rated_power')).toMatch(expected);
  });

  it('of what the tool assumes comes with its reason', () => {
    expect(provenanceOf(soundExample, 'K1.rated_current', 'K1.altitude_derating')).toMatch(
      /^assumed by the tool: common practice/,
    );
  });

  it('goes with the value that replaces an inherited one', () => {
    const part =
      '\npart transformer Bought { rated_power = 500 kVA from "data sheet", primary_voltage = 400 V, impedance = 6 % from "data sheet" }\n';
    const text = `${edited(soundExample, ['transformer T1 {', 'transformer T1 is Bought {'], ['  impedance = 6 % ± 10 %\n', ''])}${part}`;
    expect(provenanceOf(text, 'T1.series_reactance', 'T1.rated_power')).toBe('stated');
    expect(provenanceOf(text, 'T1.series_reactance', 'T1.impedance')).toBe('stated, from its part: data sheet');
  });
});
