// Strings side by side that do not share equally: the one that carries most is judged.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { complaints, theFinding, worst } from '../../kit/plants.ts';

const spread = (words: string) => ['strings = 4', `strings = 4\n  string_spread = ${words}`] as const;

describe('a spread between strings', () => {
  it('raises the current of the one that carries most', () => {
    const [equal, uneven] = [sound(), sound(spread('8 %'))].map(plant => worst(plant, 'B1.string_current').value);
    expect(uneven! / equal!).toBeCloseTo(1.08, 12);
  });

  it('leaves the battery as a whole as it is', () => {
    for (const name of ['B1.current', 'B1.discharge_time', 'B1.voltage_min'])
      expect(worst(sound(spread('8 %')), name).value, name).toBe(worst(sound(), name).value);
  });

  it('means nothing to a single string', () => {
    const single = ['strings = 4', 'strings = 1'] as const;
    const alone = ['strings = 4', 'strings = 1\n  string_spread = 8 %'] as const;
    expect(worst(sound(alone), 'B1.string_current').value).toBe(worst(sound(single), 'B1.string_current').value);
  });

  it('is what overloads a string that the mean does not', () => {
    expect(complaints(sound(spread('8 %'))).map(({ message }) => message)).toEqual([]);
    const limit = 280 / worst(sound(), 'B1.string_current').value;
    const found = theFinding(sound(spread(`${(100 * (limit - 1) + 1).toFixed(3)} %`)), 'battery_current');
    expect(found).toMatchObject({ severity: 'error', subject: 'B1' });
  });
});
