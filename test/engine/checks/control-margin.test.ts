// Voltage to control with at rest: at nominal and at highest network voltage, and where it is missing altogether.
import { describe, expect, it } from 'vitest';
import { controlMarginCheck as check } from '../../../engine/checks/control-margin.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { lineAt, textAt, theFinding, valueAt, worst } from '../../kit/plants.ts';

const { code } = check;
const rule = (text: string) => ['transformer_spare = 5 %', `transformer_spare = 5 %, ${text}`] as const;
const apart = ['lowest_connected = 0 %', 'lowest_connected = 10 %'] as const;

showsItself(check, { severity: 'warning' });

describe('the margin', () => {
  it('is judged at nominal network voltage by one rule and at the highest by another', () => {
    const nominal = 100 * valueAt(sound(), 'K1.control_margin', { voltage: 'nominal' });
    const high = 100 * valueAt(sound(), 'K1.control_margin', { voltage: 'high' });
    const just = (name: string, margin: number) => [rule(`${name} = ${margin} %`)];
    expectLimit(code, just('control_margin', nominal - 0.01), just('control_margin', nominal + 0.01), 'warning');
    expectLimit(code, just('control_margin_worst', high - 0.01), just('control_margin_worst', high + 0.01), 'warning');
  });

  it('shows what is there, what is wanted and at which voltage', () => {
    const plant = sound(rule('control_margin_worst = 30 %'));
    const { message, place, point, related } = theFinding(plant, code);
    const { display } = worst(plant, 'K1.control_margin');
    expect(message).toBe(
      `K1 keeps ${display} of voltage to control with, less than the 30 % wanted, with the battery at rest at the bottom of its span at the highest network voltage.`,
    );
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['soc = 10 % .. 90 %']);
    expect(point).toMatchObject({ voltage: 'high', duty: undefined });
    expect(lineAt(plant, place)).toBe('secondary_voltage = 360 V');
  });

  it('is an error where the voltage is not even there, if only at the highest network voltage', () => {
    const plant = sound(['secondary_voltage = 360 V', 'secondary_voltage = 480 V'], apart);
    expect(valueAt(plant, 'K1.control_margin', { voltage: 'nominal' })).toBeGreaterThan(0);
    const { severity, message, point } = theFinding(plant, code);
    expect(severity).toBe('error');
    expect(point).toMatchObject({ voltage: 'high' });
    const short = worst(plant, 'K1.control_margin').display.replace('-', '');
    expect(message).toBe(
      `K1 can’t even make the idle voltage at its terminals from the battery at rest at the bottom of its span: ${short} is missing at the highest network voltage.`,
    );
  });

  it('is said once, at nominal voltage, where it is narrow at both', () => {
    const plant = sound(rule('control_margin = 45 %, control_margin_worst = 45 %'));
    expect(theFinding(plant, code)).toMatchObject({ severity: 'warning', point: { voltage: 'nominal' } });
  });

  it('is that of the link where a chopper holds it', () => {
    const narrow = withChopper(rule('control_margin = 60 %'));
    expect(theFinding(narrow, code).message).toMatch(
      /less than the 60 % wanted, with the link at the lowest voltage that Q1 holds at the nominal network voltage\.$/,
    );
    const short = withChopper(['secondary_voltage = 360 V', 'secondary_voltage = 520 V']);
    const { message, related } = theFinding(short, code);
    expect(message).toContain('from the link at the lowest voltage that Q1 holds: ');
    expect(related.map(({ place }) => textAt(short, place))).toEqual(['link_voltage = 750 V ± 1 %']);
  });

  it('names the case', () => {
    const plant = bad(check, ['require T1.loading <= 95 %', 'case drained { B1.soc = 5 % .. 90 % }']);
    expect(theFinding(plant, code).message).toContain('in case drained');
  });
});
