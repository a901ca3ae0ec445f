// Reactive power without load.
import { describe, expect, it } from 'vitest';
import { noLoadReactive as check } from '../../../engine/checks/no-load-reactive.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { theFinding, told, worst } from '../../kit/plants.ts';

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'no_load_reactive')).toEqual({
    message:
      'Without load, what stands before K1 delivers 8.828 kvar, 1.666 % of its rated power, more than the customary 1 % at the highest network voltage.',
    at: 'K1',
    related: [],
    limit: '5.3 kvar',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('is the capacitor’s reactive power less the transformer’s', () => {
    // At 440 V: 300 µF on 396 V, and 1 % of 500 kVA with 0.16 % of it active, both with the square of the voltage.
    const capacitor = 396 ** 2 * 2 * Math.PI * 50 * 300e-6;
    const magnetising = 500e3 * Math.sqrt(0.01 ** 2 - (800 / 500e3) ** 2) * 1.1 ** 2;
    expect(worst(sound(), 'K1.no_load_reactive_power').value / (capacitor - magnetising)).toBeCloseTo(1, 1);
  });

  it('is judged by the house rule, as a share of √3·U·I on the converter’s side', () => {
    const rule = (share: number) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, no_load_reactive = ${share} %`] as const;
    const share = (100 * worst(sound(), 'K1.no_load_reactive_power').value) / (Math.sqrt(3) * 360 * 850);
    expectLimit(check.code, [rule(share + 0.001)], [rule(share - 0.001)], 'warning');
  });

  it('says how much, which way and at which voltage', () => {
    const plant = bad(check);
    const { value, display } = worst(plant, 'K1.no_load_reactive_power');
    const share = show(value / (Math.sqrt(3) * 360 * 850), dimensions.ratio);
    const found = theFinding(plant, check.code);
    expect(found.message).toBe(
      `Without load, what stands before K1 delivers ${display}, ${share} of its rated power, more than the customary 1 % at the highest network voltage.`,
    );
    expect(found.limit).toMatchObject({ name: 'HouseRules.no_load_reactive', display: '5.3 kvar' });
    const inductive = bad(
      check,
      ['capacitance = 300 µF', 'capacitance = 1 µF'],
      ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  no_load_current = 5 %'],
    );
    expect(theFinding(inductive, check.code).message).toContain('what stands before K1 takes up ');
  });
});
