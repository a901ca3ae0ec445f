// Ways out of uncontrolled charging that are offered: a winding inside its window, or contactors that open earlier.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { uncontrolledCharging as check } from '../../../engine/checks/uncontrolled-charging.ts';
import { fixTrial } from '../../../engine/trial.ts';
import { bad, expectFixesToHold, sound } from '../../kit/checks.ts';
import { snapshotOf } from '../../kit/feature.ts';
import { type Analysed, analysed, type Edit, edited, findingsOf, fixed, theFinding, worst } from '../../kit/plants.ts';

const code = 'uncontrolled_charging';

describe('the fix', () => {
  it('lowers the winding to the whole 5 V that keep the margin', () => {
    const [fix] = theFinding(bad(check), code).fixes;
    const { value } = worst(bad(check), 'T1.winding_max_diode');
    expect(fix).toMatchObject({
      title: `Lower the secondary voltage to ${Math.floor(value / 1.03 / 5) * 5} V`,
      safe: false,
    });
  });

  it('takes whole volts where the window is narrower than 5 V', () => {
    const plant = bad(
      check,
      ['ac_current = 850 A', 'ac_current = 762 A'],
      ['transformer_spare = 5 %', 'transformer_spare = 5 %, diode_margin = 3.3 %'],
    );
    expect(worst(plant, 'T1.winding_min').value).toBeGreaterThan(355);
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Lower the secondary voltage to 359 V']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('never goes below the window: the contactors open earlier instead', () => {
    const plant = bad(check, ['ac_current = 850 A', 'ac_current = 730 A']);
    expect(worst(plant, 'T1.winding_min').value).toBeGreaterThan(worst(plant, 'T1.winding_max_diode').value / 1.03);
    // 224 cells · (2.60 V + 0.06 V for each per cent) must reach the crest of 595.7 V and 3 % more: from 2.3 % on.
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Have the contactors open at 3 %']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('is not offered where neither helps', () => {
    const plant = bad(
      check,
      ['ac_current = 850 A', 'ac_current = 730 A'],
      ['soc = 10 % .. 90 %', 'soc = 1 % .. 90 %'],
      ['2.80 V .. 3.60 V', '2.00 V .. 3.60 V'],
    );
    expect(theFinding(plant, code).fixes).toEqual([]);
  });

  it('is not offered where a case states the winding anew', () => {
    // The crest of 619 V and 3 % more, over 224 cells: 2.847 V, which the cells rest at from 4.1 % on.
    const plant = bad(check, ['require T1.loading <= 95 %', 'case other { T1.secondary_voltage = 395 V }']);
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Have the contactors open at 5 %']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('keeps the margin of each case, whichever of them is the worst', () => {
    const cases = (text: string) => ['require T1.loading <= 95 %', text] as const;
    const { value } = worst(bad(check), 'T1.winding_max_diode');
    const strict = bad(check, cases('case strict { HouseRules.diode_margin = 4 % }'));
    expect(theFinding(strict, code).fixes).toMatchObject([
      { title: `Lower the secondary voltage to ${Math.floor(value / 1.04 / 5) * 5} V` },
    ]);
    const tight = ['ac_current = 850 A', 'ac_current = 730 A'] as const;
    // 595.7 V and a tenth more over 224 cells: 2.925 V, from 2.60 V up by 0.06 V a per cent: from 5.4 % on.
    const early = bad(check, tight, cases('case strict { HouseRules.diode_margin = 10 % }'));
    expect(theFinding(early, code).fixes).toMatchObject([{ title: 'Have the contactors open at 6 %', safe: false }]);
  });
});

describe('where nothing says when the contactors open', () => {
  const silent: Edit = ['  lowest_connected = 0 %\n', ''];
  const high: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 460 V'];

  it('one fix does both: a lower winding alone would leave an empty battery below the crest', () => {
    const plant = sound(high, silent);
    // At rest 716.8 V at 10 % over the crest of 722.2 V at 460 V and 3 % more: 443 V. An empty one rests at 582 V.
    const { fixes } = theFinding(plant, code);
    expect(fixes.map(({ title }) => title)).toEqual([
      'Lower the secondary voltage to 440 V, and have the contactors open at 10 %',
    ]);
    expect(expectFixesToHold(plant, code)).toBe(1);
    const after = analysed(fixed(plant.files, fixes[0]!));
    expect(findingsOf(after, 'connected_below_floor')).toEqual([]);
    // One of the two without the other would not do.
    const [winding, floor] = fixes[0]!.edits.map(edit => analysed(fixed(plant.files, { ...fixes[0]!, edits: [edit] })));
    expect(findingsOf(winding!, 'connected_below_floor')).toHaveLength(1);
    expect(findingsOf(floor!, code)).toHaveLength(1);
  });

  it('is offered after it was tried', () => {
    const plant = sound(high, silent);
    const { analysis } = plant;
    const tried = fixTrial({ analysis, snapshot: snapshotOf(plant.files), settings: { today: undefined } });
    expect(tried(theFinding(plant, code)).fixes).toHaveLength(1);
  });

  it('the winding is enough where even an empty battery then rests above the crest', () => {
    const plant = sound(high, silent, ['0 % 2.60 V', '0 % 3.15 V']);
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Lower the secondary voltage to 440 V']);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('each battery that is silent is asked, with the crest of each case', () => {
    const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
    const second = (words: string) =>
      edited(block, ['B1', 'B2'], ['strings = 4', 'strings = 2'], ['  lowest_connected = 0 %\n', words]);
    const pair = (words: string): Analysed =>
      sound(
        high,
        silent,
        ['strings = 4', 'strings = 2'],
        ['connect MAIN', `${second(words)}connect MAIN`],
        ['K1 -> B1', 'K1 -> B1\nconnect K1 -> B2'],
      );
    const both = pair('');
    expect(theFinding(both, code).fixes.map(({ title }) => title)).toEqual([
      'Lower the secondary voltage to 440 V, and have the contactors open at 10 % (B1) and 10 % (B2)',
    ]);
    expect(expectFixesToHold(both, code)).toBe(1);
    const one = pair('  lowest_connected = 10 %\n');
    expect(theFinding(one, code).fixes[0]!.edits).toHaveLength(2);
    expect(expectFixesToHold(one, code)).toBe(1);
  });
});
