// A modulation that needs a floating star point, where it is earthed: by the transformer, or by the network without one.
import { describe, expect, it } from 'vitest';
import { modulationLimit as check } from '../../../engine/checks/modulation-limit.ts';
import { bad, expectFixesToHold, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;
const earthing = (word: string) => ['x_over_r = 5', `x_over_r = 5\n  earthing = ${word}`] as const;
const modulation = (word: string) => ['ac_current = 850 A', `ac_current = 850 A\n  modulation = ${word}`] as const;
const direct = ['connect MAIN -> T1 -> F1', 'connect MAIN -> F1'] as const;
const rule = ['require T1.loading <= 95 %\n', ''] as const;
const sine = Math.sqrt(3) / (2 * Math.SQRT2);
const factor = (...edits: readonly Edit[]) => worst(sound(...edits), 'K1.modulation_factor').value;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'modulation_limit')).toEqual({
    message:
      'K1 states `modulation = space_vector`, but the star point of T1 on its side is earthed or loaded: its third harmonic would drive a current through earth. It is judged by the sine limit: its AC voltage reaches 61.2 % of the DC voltage, not 70.7 %.',
    at: 'modulation = space_vector',
    related: [['neutral = earthed', 'It is earthed here.']],
    limit: undefined,
    fixes: ['State `modulation = sine`'],
  });
});

describe('the sine limit', () => {
  it('holds where the neutral on the converter side is earthed, whatever is stated', () => {
    expect(worst(bad(check), 'K1.modulation_factor').value).toBeCloseTo(sine, 12);
    expect(factor(modulation('third_harmonic'))).toBeCloseTo(Math.SQRT1_2, 12);
  });

  it('holds on an earthed network without a transformer, and not behind one', () => {
    for (const word of ['tn', 'tt']) {
      expect(factor(earthing(word), direct, rule), word).toBeCloseTo(sine, 12);
      expect(factor(earthing(word)), word).toBeCloseTo(Math.SQRT1_2, 12);
    }
    expect(factor(earthing('it'), direct, rule)).toBeCloseTo(Math.SQRT1_2, 12);
    expect(factor(direct, rule)).toBeCloseTo(Math.SQRT1_2, 12);
  });
});

describe('the finding', () => {
  it('points at the modulation and at what earths it, and offers sine', () => {
    const plant = bad(check);
    const { message, place, related } = theFinding(plant, code);
    expect(message).toContain('61.2 %');
    expect(message).toContain('70.7 %');
    expect(lineAt(plant, place)).toBe('modulation = space_vector');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['neutral = earthed']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('names the network where there is no transformer', () => {
    const { message } = theFinding(sound(earthing('tn'), modulation('space_vector'), direct, rule), code);
    expect(message).toContain('no transformer stands between it and MAIN');
  });

  it('needs a modulation that the author states, and not sine', () => {
    const neutral = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = earthed'] as const;
    expect(findingsOf(sound(neutral), code)).toEqual([]);
    expect(findingsOf(sound(neutral, modulation('sine')), code)).toEqual([]);
    expect(findingsOf(sound(modulation('space_vector')), code)).toEqual([]);
  });
});
