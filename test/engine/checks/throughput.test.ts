// Years until the warranty’s energy is used up.
import { describe, expect, it } from 'vitest';
import { throughput as check } from '../../../engine/checks/throughput.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'throughput')).toEqual({
    message:
      'The warranty of B1 covers 1 GWh; with 226.3 MWh delivered in a year that is used up after 4.4 years, less than the customary 10 years.',
    at: 'throughput_warranty = 1 GWh',
    related: [],
    limit: '10 years',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('counts ten years', () => {
    const often = ['for 45 min', 'for 45 min every 12 h'] as const;
    const yearly = worst(sound(often), 'B1.yearly_throughput').value;
    const warranty = (joule: number) =>
      ['temperature = 20 °C', `temperature = 20 °C\n  throughput_warranty = ${joule / 3.6e12} GWh`] as const;
    expectLimit(code, [often, warranty(yearly * 10.01)], [often, warranty(yearly * 9.99)], 'warning');
  });
});

describe('a warranty that ends', () => {
  const often: Edit = ['for 45 min', 'for 45 min every 12 h'];
  const quiet: Edit = ['for 90 s every 15 min', 'for 90 s'];
  const stating = (facts: string): Edit => ['temperature = 20 °C', `temperature = 20 °C\n  ${facts}`];

  it('by its cycles is told by them, against the time that it covers', () => {
    const plant = sound(often, quiet, stating('warranty_cycles = 1000\n  warranty_time = 12 a'));
    expect(told(plant, code)).toMatchObject({
      message:
        'The warranty of B1 covers 1000 full cycles; with 226.3 MWh delivered in a year that is used up after 2.9 years, less than its 12 years.',
      at: 'warranty_cycles = 1000',
      limit: '12 years',
    });
  });

  it('by its time alone is as it was bought', () => {
    expect(findingsOf(sound(often, quiet, stating('warranty_time = 3 a')), code)).toEqual([]);
    expect(
      findingsOf(sound(often, quiet, stating('warranty_time = 3 a\n  throughput_warranty = 9 GWh')), code),
    ).toEqual([]);
  });

  it('is judged in each case by the time that the case states', () => {
    const facts = stating('throughput_warranty = 1.5 GWh\n  warranty_time = 5 a');
    expect(findingsOf(sound(often, quiet, facts), code)).toEqual([]);
    const plant = sound(often, quiet, facts, ['require T1.loading <= 95 %', 'case long { B1.warranty_time = 9 a }']);
    expect(theFinding(plant, code).message).toMatch(/ used up after 6\.6 years, less than its 9 years\.$/);
    expect(theFinding(plant, code).point?.case).toBe('long');
  });
});
