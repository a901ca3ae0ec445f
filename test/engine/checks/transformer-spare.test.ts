// The reserve that the house rules ask of a transformer.
import { describe, expect, it } from 'vitest';
import { transformerSpare as check } from '../../../engine/checks/transformer-spare.ts';
import { bad, expectLimit, showsItself, sound, without } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const rule = (share: number) => ['transformer_spare = 5 %', `transformer_spare = ${share} %`] as const;

showsItself(check, { severity: 'warning' });

describe('the spare', () => {
  it('is judged by the house rule', () => {
    const share = 100 * worst(sound(), 'T1.spare').value;
    expectLimit(code, [rule(share - 0.01)], [rule(share + 0.01)], 'warning');
  });

  it('shows what is left and what is wanted, with the rule beside it', () => {
    const plant = bad(check);
    const { message, place, related } = theFinding(plant, code);
    expect(message).toBe(
      `T1 keeps ${worst(plant, 'T1.spare').display} of its rating free, less than the 20 % that the house rules ask for during start_peak, at the lowest network voltage, delivering reactive power.`,
    );
    expect(lineAt(plant, place)).toBe('rated_power = 500 kVA');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['transformer_spare = 20 %']);
  });

  it('is not judged without a duty', () => {
    expect(findingsOf(bad(check, ...without('start_peak', 'braking')), code)).toEqual([]);
  });

  it('leaves the word to the overload where nothing is left', () => {
    const plant = sound(['rated_power = 500 kVA', 'rated_power = 400 kVA'], rule(20));
    expect(findingsOf(plant, code)).toEqual([]);
    expect(theFinding(plant, 'transformer_loading').severity).toBe('error');
  });

  it('names the case', () => {
    const plant = bad(check, ['require T1.loading <= 95 %', 'case weak { MAIN.voltage = 400 V ± 11 % }']);
    expect(theFinding(plant, code).message).toContain('in case weak');
  });
});
