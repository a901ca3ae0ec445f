// Ways out of uncontrolled charging that are offered: a winding inside its window, or contactors that open earlier.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { uncontrolledCharging as check } from '../../../engine/checks/uncontrolled-charging.ts';
import { fixTrial } from '../../../engine/trial.ts';
import { bad, expectFixesToHold, sound, throughParts } from '../../kit/checks.ts';
import { chopperText } from '../../kit/choppers.ts';
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

describe('a battery that sags below the crest', () => {
  const weak: Edit = ['0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω', '0 °C 0.9 Ω, 45 °C 0.5 Ω'];
  const early: Edit = ['lowest_connected = 0 %', 'lowest_connected = 10 %'];
  const plant = sound(weak, early, ['secondary_voltage = 360 V', 'secondary_voltage = 405 V']);

  it('asks for a winding at which it no longer does', () => {
    const { fixes, message } = theFinding(plant, code);
    expect(message).toContain('Just after blocking at full discharge');
    const sag = worst(plant, 'B1.voltage_min').value / worst(plant, 'K1.blocked_peak').value;
    expect(sag).toBeLessThan(1);
    expect(fixes.map(({ title }) => title)).toEqual([
      `Lower the secondary voltage to ${Math.floor((405 * sag) / 5) * 5} V`,
    ]);
  });

  it('has nothing of contactors that open earlier', () => {
    const narrow = sound(
      weak,
      early,
      ['secondary_voltage = 360 V', 'secondary_voltage = 405 V'],
      ['ac_current = 850 A', 'ac_current = 680 A'],
    );
    expect(worst(narrow, 'T1.winding_min').value).toBeGreaterThan(390);
    expect(theFinding(narrow, code).fixes).toEqual([]);
  });
});

describe('contactors that open earlier', () => {
  const tight: Edit = ['ac_current = 850 A', 'ac_current = 730 A'];

  it('are the only way without a transformer', () => {
    const plant = sound(
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect MAIN -> F1 -> K1 -> B1'],
      ['require T1.loading <= 95 %', ''],
    );
    // 440 V · √2 and 3 % more over 224 cells: 2.861 V, from 2.60 V up by 0.06 V a per cent: from 4.4 % on.
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Have the contactors open at 5 %']);
    expect(theFinding(plant, code).fixes[0]!.edits.map(({ text }) => text)).toEqual(['5 %']);
  });

  it('are stated at the battery where parts bring winding and battery', () => {
    const files = new Map(throughParts(edited(soundExample, ...check.bad)));
    const text = files.get('plant.plant')!;
    expect(theFinding(analysed(files), code).fixes).toEqual([]);
    files.set('plant.plant', edited(text, ['battery B1 is B1Part', 'battery B1 is B1Part {\n}']));
    const plant = analysed(files);
    expect(theFinding(plant, code).fixes).toMatchObject([
      { title: 'Have the contactors open at 3 %', edits: [{ text: '\n  lowest_connected = 3 %' }] },
    ]);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('are not asked for where a case says when they open', () => {
    const plant = bad(check, tight, ['require T1.loading <= 95 %', 'case other { B1.lowest_connected = 1 % }']);
    expect(theFinding(plant, code).fixes).toEqual([]);
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

  it('a battery behind a chopper on the same winding is not asked', () => {
    const block = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'));
    const second = edited(
      block,
      ['B1', 'B2'],
      ['cells_in_series = 224', 'cells_in_series = 112'],
      ['  lowest_connected = 0 %\n', ''],
    );
    const plant = sound(high, silent, [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `${second}${chopperText.replace('600 V .. 850 V', '600 V .. 900 V').replace('750 V ± 1 %', '840 V')}
filter F2 { converter_inductance = 100 µH, capacitance = 150 µF }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 900 V, switching_frequency = 4 kHz }
bus N1 {}\nconnect MAIN -> T1 -> N1 -> F1 -> K1 -> B1\nconnect N1 -> F2 -> K2 -> Q1 -> B2`,
    ]);
    const [fix] = theFinding(plant, code, 'K1').fixes;
    expect(fix!.title).toMatch(/^Lower the secondary voltage to 4\d\d V, and have the contactors open at 10 %$/);
    expect(fix!.edits).toHaveLength(2);
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
