// Nobody says when the contactors open: asked only where it matters, and from where on the diodes stay blocked.
import { describe, expect, it } from 'vitest';
import { connectedBelowFloor as check } from '../../../engine/checks/connected-below-floor.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound, throughParts } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { analysed, type Edit, edited, findingsOf, lineAt, theFinding, worst } from '../../kit/plants.ts';

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
    const { message, place, limit } = theFinding(plant, code);
    const { display } = worst(plant, 'K1.blocked_peak');
    // 224 · 2.40 V empty; from 3 % on, 2.64 V, it stands above the crest and 3 % more.
    expect(message).toBe(
      `Nothing says when B1’s contactors open. It was judged down to 10 %; a battery emptied further rests as low as 537.6 V, below the crest of ${display} at the blocked K1, and the diodes would charge it unchecked. Ask at which state of charge the contactors surely open; from 3 % upwards the diodes stay blocked.`,
    );
    expect(limit).toMatchObject({ display: '537.6 V' });
    expect(lineAt(plant, place)).toBe('soc = 10 % .. 90 %');
  });

  it('leaves the word to the hazard where the diodes conduct inside the span already', () => {
    const plant = bad(check, ['soc = 10 % .. 90 %', 'soc = 0 % .. 90 %']);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(theFinding(plant, 'uncontrolled_charging').severity).toBe('error');
  });

  it('is not asked about where it is stated, where a chopper stands between, or where it was said and not understood', () => {
    const low = ['0 % 2.60 V', '0 % 2.40 V'] as const;
    expect(findingsOf(sound(low), code)).toEqual([]);
    const cells = [
      ['cells_in_series = 112', 'cells_in_series = 224'],
      ['250 V .. 420 V', '450 V .. 765 V'],
      ['link_voltage = 750 V', 'link_voltage = 780 V'],
    ] as const;
    expect(findingsOf(withChopper(low, silent, ...cells), code)).toEqual([]);
    expect(findingsOf(sound(low, ['lowest_connected = 0 %', 'lowest_connected = 0 Ohm']), code)).toEqual([]);
  });

  it('is asked about without an offer where the margin is not there within the span', () => {
    // A fifth and a quarter more than the crest: 3.148 V a cell, which it has from 9.4 % on, and 3.4 V, which it never has below 10 %.
    const rule = (share: number) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, diode_margin = ${share} %`] as const;
    const { message, fixes } = theFinding(bad(check, rule(35)), code);
    expect(fixes).toEqual([]);
    expect(message).toMatch(/surely open\.$/);
    expect(theFinding(bad(check, rule(25)), code).fixes).toHaveLength(1);
  });

  it('gets no offer in a part, which others may use too', () => {
    expect(theFinding(analysed(throughParts(edited(soundExample, ...check.bad))), code).fixes).toEqual([]);
  });

  it('keeps the margin of the house rules in what it offers', () => {
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %, diode_margin = 20 %'] as const;
    const plant = bad(check, rule);
    // 564.2 V and a fifth more over 224 cells: 3.022 V. From 2.40 V up by 0.08 V a per cent: from 7.8 % on.
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['State that the contactors open at 8 %']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });
});

describe('cases of their own', () => {
  const cases = (text: string) => ['require T1.loading <= 95 %', text] as const;
  const titles = (text: string, ...edits: readonly Edit[]) =>
    theFinding(bad(check, cases(text), ...edits), code).fixes.map(({ title }) => title);

  it('each want the margin of their own rules in what is offered', () => {
    // 564.2 V and a fifth more over 224 cells: 3.022 V, which 2.40 V and 0.08 V a per cent reach from 7.8 % on.
    const rule = 'HouseRules.diode_margin = 20 %';
    expect(titles(`case strict { ${rule} }`)).toEqual(['State that the contactors open at 8 %']);
    // 3.4 V is not reached in the span, whatever the other cases say.
    expect(
      titles(`case strict { HouseRules.diode_margin = 35 % }\ncase lax { HouseRules.diode_margin = 1 % }`),
    ).toEqual([]);
    expect(expectFixesToHold(bad(check, cases(`case strict { ${rule} }`)), code)).toBe(1);
  });

  it('are asked about where they empty the battery below the crest, though the base case says when it opens', () => {
    const low = 'B1.open_circuit_voltage = curve soc per cell { 0 % 2.30 V, 10 % 3.20 V, 100 % 3.40 V }';
    const plant = bad(check, cases(`case tired { ${low} }\ncase usual { B1.state_of_health = 90 % }`));
    const { message, point, limit } = theFinding(plant, code);
    expect(message).toMatch(/ down to 10 % in case tired; .* rests as low as 515\.2 V, /);
    expect(point?.case).toBe('tired');
    expect(limit).toEqual({ name: undefined, number: 224 * 2.3, display: '515.2 V' });
    // 564.2 V and 3 % more over 224 cells: 2.594 V, from 2.30 V by 0.09 V a per cent: from 3.3 % on; the base case from 2.4 %.
    expect(titles(`case tired { ${low} }`)).toEqual(['State that the contactors open at 4 %']);
    const stated = sound(cases(`case tired { ${low} }`));
    expect(findingsOf(stated, code)).toEqual([]);
  });

  it('are left out where they say it, or say it without being understood', () => {
    for (const said of ['B1.lowest_connected = 10 %', 'B1.lowest_connected = 5 Ohm'])
      expect(theFinding(bad(check, cases(`case said { ${said} }`)), code).point?.case).toBeUndefined();
  });

  it('get no offer that would keep the battery from a span that a case uses', () => {
    const wide = 'case deep { B1.soc = 1 % .. 90 %, B1.lowest_connected = 0 % }';
    expect(titles(wide)).toEqual([]);
  });
});
