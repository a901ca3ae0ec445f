// What the tool took for granted: one note a component, each with its reason.
import { describe, expect, it } from 'vitest';
import { assumedByTool as check } from '../../../engine/checks/assumed-by-tool.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'note', many: true, numbers: 0 });

describe('the note', () => {
  it('stands once a component, on its tag', () => {
    const subjects = findingsOf(bad(check), code).map(({ subject }) => subject);
    expect(subjects).toContain('MountainStation');
    expect(new Set(subjects).size).toBe(subjects.length);
    expect(lineAt(bad(check), theFinding(bad(check), code, 'K1').place)).toBe('converter K1 {');
  });

  it('says what is assumed, and why', () => {
    const { message } = theFinding(bad(check), code, 'MountainStation');
    expect(message).toContain('`altitude = 1000 m` (common practice, no source');
  });

  it('is gone with the last default that the author states', () => {
    const stated = ['fault_power = 9 MVA .. 14 MVA', 'fault_power = 9 MVA .. 14 MVA\n  unbalance = 0 %'] as const;
    expect(findingsOf(sound(), code, 'MAIN')).toHaveLength(1);
    expect(findingsOf(sound(stated), code, 'MAIN')).toEqual([]);
  });

  it('is gone with what the author assumes: somebody looked', () => {
    const assumed = [
      'fault_power = 9 MVA .. 14 MVA',
      'fault_power = 9 MVA .. 14 MVA\n  unbalance = 0 % assumed "three-phase feeder"',
    ] as const;
    expect(findingsOf(sound(assumed), code, 'MAIN')).toEqual([]);
  });

  it('says nothing of an efficiency where parts of the loss stand in its place', () => {
    expect(theFinding(sound(), code, 'K1').message).toContain('`efficiency = 98 %`');
    const split = ['switching_frequency = 4 kHz', 'switching_frequency = 4 kHz\n  fixed_loss = 1.2 kW'] as const;
    expect(theFinding(sound(split), code, 'K1').message).not.toContain('efficiency');
  });

  it('tells the tolerances that a standard fills in, except the network’s, which is asked for', () => {
    const plant = sound(
      ['impedance = 6 % ± 10 %', 'impedance = 6 %'],
      ['frequency = 50 Hz ± 1 %', 'frequency = 50 Hz'],
    );
    expect(theFinding(plant, code, 'T1').message).toContain('`impedance` ± 10 % (IEC 60076-1');
    const higher = sound(['impedance = 6 % ± 10 %', 'impedance = 10 %']);
    expect(theFinding(higher, code, 'T1').message).toContain(
      '`impedance` ± 7.5 % (IEC 60076-1, impedances of 10 % and more',
    );
  });
});

const assumed = (tag: string, ...edits: readonly Edit[]): string => theFinding(sound(...edits), code, tag).message;
const curve = /open_circuit_voltage = .*/.exec(soundExample)![0];
const resistance = /resistance = curve .*/.exec(soundExample)![0];

describe('what is told', () => {
  it('of a network is its unbalance and the tolerance of its frequency; its voltage is asked for by a finding', () => {
    expect(assumed('MAIN', ['frequency = 50 Hz ± 1 %', 'frequency = 50 Hz'], ['400 V ± 10 %', '400 V'])).toBe(
      'Not stated for MAIN, so the tool assumes: `frequency` ± 1 % (EN 50160, interconnected network (from memory)); `unbalance = 0 %` (the stated voltage band is taken to hold for each pair of phases).',
    );
  });

  it('is what holds in place of a fact, in its own words', () => {
    expect(assumed('T1', ['  load_loss = 5.8 kW\n', ''])).toMatch(
      /^Not stated for T1, so the tool assumes: `load_loss`: the greatest that Regulation .* construction, tier 2, or in proportion .*no source\); `no_load_current = 1 %`/,
    );
  });

  it('is what matters only with another choice where that choice is made', () => {
    const changer = (words: string): Edit => ['load_loss = 5.8 kW', `load_loss = 5.8 kW\n  ${words}`];
    expect(assumed('T1', changer('tap_changer = on_load'))).toContain('`tap_step = 1.25 %` (common practice');
    expect(assumed('T1', changer('tap_changer = off_circuit'))).not.toContain('tap_step');
    expect(assumed('T1')).not.toContain('tap_step');
    const cooled = (words: string) => assumed('K1', ['ac_current = 850 A', `ac_current = 850 A\n  ${words}`]);
    expect(cooled('cooling = liquid')).toMatch(/; `room_heat`: all of it with air, 10 % with liquid cooling: common/);
    expect(cooled('cooling = air')).not.toContain('room_heat');
    expect(cooled('cooling = liquid\n  room_heat = 5 %')).not.toContain('room_heat');
    expect(cooled('cooling = liquid\n  room_heat = 5 V')).not.toContain('room_heat');
  });
});

describe('the curves of a battery', () => {
  it('are told where a window or the chemistry stands in for the voltage at rest, and the table says what is wrong with it', () => {
    expect(assumed('B1', [curve, 'voltage = 550 V .. 780 V'])).toMatch(
      /; `open_circuit_voltage`: a straight line through the window `voltage`, which is false for flat chemistries such as lfp: most of their span lies near one voltage\.$/,
    );
    expect(assumed('B1', [curve, 'chemistry = lfp'])).toMatch(/; `open_circuit_voltage` \(curve of lfp cells, .*\)\.$/);
    for (const edit of [
      [curve, curve],
      [curve, ''],
      [curve, 'open_circuit_voltage = 5 A\n  voltage = 550 V .. 780 V'],
    ] as const)
      expect(assumed('B1', edit)).not.toContain('open_circuit');
  });

  it('grow with the cold where one resistance is stated, and some case is not at the 25 °C for which it is taken', () => {
    const grown = (line: string, celsius: number, inCase = '') =>
      assumed(
        'B1',
        [resistance, `chemistry = lfp\n  ${line}`],
        ['temperature = 20 °C', `temperature = ${celsius} °C`],
        ['require T1.loading <= 95 %', inCase],
      );
    const one = 'resistance = 0.14 Ω';
    const growth =
      /; `resistance` as stated at 25 °C, and `resistance_growth` over temperature \(shape of lfp cells .*\)\.$/;
    expect(grown(one, 20)).toMatch(growth);
    expect(grown(one, 25, 'case cold { B1.temperature = 5 °C }')).toMatch(growth);
    expect(grown('resistance = curve soc { 0 % 0.2 Ω, 100 % 0.14 Ω }', 20)).toMatch(growth);
    expect(grown(one, 20, 'case warm { B1.temperature = 25 °C }')).toMatch(growth);
    for (const [line, celsius] of [
      [one, 25],
      [resistance, 20],
      ['resistance = curve soc, temperature { columns 0 °C, 45 °C\n 10 % 0.2 Ω, 0.14 Ω\n 90 % 0.2 Ω, 0.14 Ω\n }', 20],
      [`${one}\n  resistance_growth = curve temperature { 0 °C 200 %, 45 °C 85 % }`, 20],
      ['resistance = 5 V', 20],
    ] as const)
      expect(grown(line, celsius)).not.toContain('resistance');
    expect(assumed('B1', [resistance, one])).not.toContain('resistance');
  });
});
