// Connection symbols that can't be, and neutrals that they do not bring out.
import { describe, expect, it } from 'vitest';
import { vectorGroup as check } from '../../../engine/checks/vector-group.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, theFinding, told } from '../../kit/plants.ts';

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
