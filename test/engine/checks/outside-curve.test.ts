// A curve asked beyond its ends: an error behind hazards and permitted currents, else a warning.
import { describe, expect, it } from 'vitest';
import { outsideCurve as check } from '../../../engine/checks/outside-curve.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, findingsOf, lineAt, textAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const foot = (soc: string) => ['{ 0 % 2.60 V, 10 % 3.20 V', `{ ${soc} 2.60 V, 10 % 3.20 V`] as const;

showsItself(check, { severity: 'error', many: true });

describe('beyond the ends', () => {
  it('sits on what asks too much, the curve beside it', () => {
    const plant = bad(check);
    const [first] = findingsOf(plant, code);
    expect(lineAt(plant, first!.place)).toBe('temperature = 50 °C');
    expect(textAt(plant, first!.related[0]!.place)).toMatch(/^(charge_current|resistance) = curve/);
    expect(first!.message).toMatch(/from 0 °C to 45 °C, and was asked at 50 °C/);
  });

  it('is an error where a maker’s permission ends, a warning where a resistance does', () => {
    expect([...complaintCodes(bad(check))].sort()).toEqual([`error ${code}`, `warning ${code}`]);
  });

  it('holds up to the ends', () => {
    expect(findingsOf(sound(['temperature = 20 °C', 'temperature = 45 °C']), code)).toEqual([]);
    expect(findingsOf(sound(foot('-0 %')), code)).toEqual([]);
  });

  it('is found where only the connected battery goes there', () => {
    const plant = sound(foot('2 %'));
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', subject: 'B1' });
    expect(findingsOf(sound(foot('2 %'), ['lowest_connected = 0 %', 'lowest_connected = 2 %']), code)).toEqual([]);
  });

  it('is found where only one duty goes there', () => {
    const plant = sound(
      foot('8 %'),
      ['lowest_connected = 0 %', 'lowest_connected = 8 %'],
      ['power_factor = 0.95 }', 'power_factor = 0.95, soc = 5 % .. 90 % }'],
    );
    expect(theFinding(plant, code).message).toMatch(/from 8 % to 100 %, and was asked at 5 %/);
  });

  it('is found for a resistance over the state of charge', () => {
    const plant = sound([
      'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
      'resistance = curve soc { 20 % 0.2 Ω, 100 % 0.15 Ω }',
    ]);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'warning' });
    expect(theFinding(plant, code).message).toMatch(/from 20 % to 100 %, and was asked at 10 %/);
  });

  it('names the case', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case frost { B1.temperature = -5 °C }']);
    const found = findingsOf(plant, code);
    expect(found.map(({ point }) => point?.case)).toEqual(['frost', 'frost']);
    expect(found[0]!.message).toContain('in case frost');
    expect(lineAt(plant, found[0]!.place)).toBe('case frost { B1.temperature = -5 °C }');
  });
});
