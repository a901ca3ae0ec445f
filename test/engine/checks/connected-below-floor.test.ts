// Nobody says when the contactors open: asked only where it matters, and from where on the diodes stay blocked.
import { describe, expect, it } from 'vitest';
import { connectedBelowFloor as check } from '../../../engine/checks/connected-below-floor.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const silent = ['  lowest_connected = 0 %\n', ''] as const;

showsItself(check, { severity: 'warning' });

describe('a battery of which nobody says when it disconnects', () => {
  it('is asked about where an empty one rests below the crest, and only there', () => {
    // The crest stands at 564.2 V: 224 cells reach it at 2.519 V each.
    const crest = worst(sound(), 'K1.blocked_peak').value;
    const cell = (volts: number) => ['0 % 2.60 V', `0 % ${volts} V`] as const;
    expectLimit(code, [silent, cell((crest / 224) * 1.0005)], [silent, cell((crest / 224) * 0.9995)], 'warning');
  });

  it('shows both voltages and sits on the span of the state of charge', () => {
    const plant = bad(check);
    const { message, place } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'K1.blocked_peak').display);
    expect(message).toContain('537.6 V'); // 224 · 2.40 V
    expect(lineAt(plant, place)).toBe('soc = 10 % .. 90 %');
  });

  it('leaves the word to the hazard where the diodes conduct inside the span already', () => {
    const plant = bad(check, ['soc = 10 % .. 90 %', 'soc = 0 % .. 90 %']);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(theFinding(plant, 'uncontrolled_charging').severity).toBe('error');
  });

  it('keeps the margin of the house rules in what it offers', () => {
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %, diode_margin = 20 %'] as const;
    const plant = bad(check, rule);
    // 564.2 V and a fifth more over 224 cells: 3.022 V. From 2.40 V up by 0.08 V a per cent: from 7.8 % on.
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['State that the contactors open at 8 %']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });
});
