// Connection symbols that can't be, and neutrals that they do not bring out.
import { describe, expect, it } from 'vitest';
import { vectorGroup as check } from '../../../engine/checks/vector-group.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding, told } from '../../kit/plants.ts';

const { code } = check;
const group = (text: string, ...lines: readonly string[]) =>
  sound(['no_load_loss = 800 W', ['no_load_loss = 800 W', `vector_group = "${text}"`, ...lines].join('\n  ')]);

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'vector_group')).toEqual({
    message: '"Dyn10" is impossible for T1: these two connections shift by an odd number of hours, and 10 is not.',
    at: 'vector_group = "Dyn10"',
    related: [],
    limit: undefined,
    fixes: [],
  });
});

describe('the symbol', () => {
  it.each(['Dy11', 'Yd5', 'Dd0', 'Yy0', 'YNd1', 'Dz6'])('%s is possible', text => {
    expect(findingsOf(group(text), code)).toEqual([]);
  });

  it.each(['dyn11', 'Dyn', 'DYN11', 'Dyn12', 'Dn11', ''])('%s is none', text => {
    expect(theFinding(group(text), code).message).toContain('no connection symbol');
  });

  it.each([
    ['Dd5', 'even'],
    ['Yd0', 'odd'],
    ['Yz6', 'odd'],
  ])('%s is impossible: the hours must be %s', (text, wants) => {
    expect(theFinding(group(text), code).message).toContain(`an ${wants} number of hours`);
  });
});

describe('the neutral on the converter side, 360 V of 400 V', () => {
  it('can’t be earthed on a delta, nor where it is not brought out', () => {
    expect(theFinding(group('Yd11', 'neutral = earthed'), code).message).toContain('is a delta');
    expect(theFinding(group('Dy11', 'neutral = earthed'), code).message).toContain('not brought out');
    expect(findingsOf(group('Dyn11', 'neutral = earthed'), code)).toEqual([]);
  });

  it('is asked for where it is brought out and nobody says more', () => {
    expect(theFinding(group('Dyn11'), code).severity).toBe('note');
    expect(findingsOf(group('Dyn11', 'neutral = floating'), code)).toEqual([]);
    expect(findingsOf(group('YNd11'), code)).toEqual([]);
  });

  it('is the one of the higher voltage where the converter stands on that', () => {
    const higher = (text: string) =>
      sound(
        ['no_load_loss = 800 W', `no_load_loss = 800 W\n  vector_group = "${text}"\n  neutral = earthed`],
        ['secondary_voltage = 360 V', 'secondary_voltage = 440 V'],
      );
    expect(theFinding(higher('Dyn11'), code).message).toContain('is a delta');
    expect(findingsOf(higher('YNd11'), code)).toEqual([]);
  });
});

describe('what it says', () => {
  it.each([
    [
      'Dx11',
      '',
      '"Dx11" is no connection symbol for T1: it has the higher voltage’s winding in capitals, the other one’s in small letters, and a clock number from 0 to 11, such as "Dyn11" or "Yd5".',
    ],
    ['Yd0', '', '"Yd0" is impossible for T1: these two connections shift by an odd number of hours, and 0 is not.'],
    [
      'Yd11',
      'neutral = earthed',
      'T1’s neutral on the converter side is said to be earthed, but by "Yd11" that winding is a delta, which has none: one of the two is wrong. The sine limit is taken.',
    ],
    [
      'Dy11',
      'neutral = earthed',
      'T1’s neutral on the converter side is said to be earthed, but by "Dy11" it is not brought out: one of the two is wrong. The sine limit is taken.',
    ],
    [
      'Dyn11',
      '',
      'By "Dyn11" T1 brings the neutral of its winding on the converter side out; it is taken to float. If it is earthed or loaded, state `neutral = earthed`: the converter then reaches 13 % less voltage, by the sine limit.',
    ],
  ])('of %s %s', (text, neutral, message) => {
    const related = neutral === '' ? [] : [[neutral, 'What is said of the neutral.']];
    const plant = group(text, neutral);
    expect(told(plant, code)).toEqual({
      message,
      at: `vector_group = "${text}"`,
      related,
      limit: undefined,
      fixes: [],
    });
    expect(theFinding(plant, code).severity).toBe(text === 'Dyn11' ? 'note' : 'warning');
  });

  describe('of cases that state other facts', () => {
    const cases = (symbol: string, text: string) =>
      sound(
        ['no_load_loss = 800 W', `no_load_loss = 800 W\n  vector_group = "${symbol}"\n  neutral = floating`],
        ['require T1.loading <= 95 %', text],
      );

    it('a symbol that is wrong in one case alone: there', () => {
      const plant = cases(
        'Dyn11',
        'case usual { B1.state_of_health = 90 % }\ncase other { T1.vector_group = "Dyn10" }',
      );
      expect(told(plant, code)).toMatchObject({
        message:
          '"Dyn10" is impossible for T1 in case other: these two connections shift by an odd number of hours, and 10 is not.',
        at: 'T1.vector_group = "Dyn10"',
      });
    });

    it('a neutral that is earthed in one case alone: on that, beside the symbol', () => {
      const plant = cases('Yd11', 'case earth { T1.neutral = earthed }\ncase again { T1.neutral = earthed }');
      expect(told(plant, code)).toMatchObject({
        message:
          'T1’s neutral on the converter side is said to be earthed in case earth, but by "Yd11" that winding is a delta, which has none: one of the two is wrong. The sine limit is taken.',
        at: 'T1.neutral = earthed',
        related: [['vector_group = "Yd11"', 'The connection symbol.']],
      });
    });

    it('both that one case states: on the symbol, beside that neutral', () => {
      const plant = cases('Dyn11', 'case other { T1.vector_group = "Dy11"\n  T1.neutral = earthed }');
      expect(told(plant, code)).toMatchObject({
        at: 'T1.vector_group = "Dy11"',
        related: [['T1.neutral = earthed', 'What is said of the neutral.']],
      });
    });

    it('another winding that is the higher one there', () => {
      const plant = cases('Dyn11', 'case other { T1.secondary_voltage = 440 V\n  T1.neutral = earthed }');
      expect(theFinding(plant, code).message).toContain('is a delta');
      expect(findingsOf(cases('Dyn11', 'case other { T1.neutral = earthed }'), code)).toEqual([]);
    });

    it('the same mistake once, different ones each', () => {
      const plant = cases(
        'Dyn10',
        'case a { B1.state_of_health = 90 % }\ncase b { T1.vector_group = "Dyn8" }\ncase c { T1.vector_group = "Dyn8" }',
      );
      expect(findingsOf(plant, code).map(({ message }) => message.split(':')[0])).toEqual([
        '"Dyn10" is impossible for T1',
        '"Dyn8" is impossible for T1 in case b',
      ]);
    });
  });

  it('nothing of the neutral where both windings have one voltage, or the transformer stands alone', () => {
    const facts: Edit = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  vector_group = "Yd11"\n  neutral = earthed'];
    expect(findingsOf(sound(facts, ['secondary_voltage = 360 V', 'secondary_voltage = 400 V']), code)).toEqual([]);
    expect(findingsOf(sound(facts, ['MAIN -> T1 -> F1', 'MAIN -> F1']), code)).toEqual([]);
    expect(findingsOf(sound(facts), code)).toHaveLength(1);
  });
});
