// Batteries side by side that do not rest at one voltage.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { packMismatch as check } from '../../../engine/checks/pack-mismatch.ts';
import { bad, showsItself } from '../../kit/checks.ts';
import { type Analysed, analysed, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'pack_mismatch')).toEqual({
    message:
      'B2 and B1 stand side by side, but rest at 788.2 V and 748.2 V at 90 % state of charge: whenever they are joined there 485.8 A flows from B2 into B1, beyond the 466.7 A that B1 permits for charging, and no converter stands between them.',
    at: 'cells_in_series = 236',
    related: [
      ['cells_in_series = 224', 'The other battery’s cells in series.'],
      [
        'open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }',
        'The other battery’s voltage at rest.',
      ],
      [
        'open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }',
        'Its own voltage at rest.',
      ],
    ],
    limit: '466.7 A',
    fixes: [],
  });
});

const cells = (count: number) => ['cells_in_series = 236', `cells_in_series = ${count}`] as const;

describe('the judgement', () => {
  it('tells what flows, by hand', () => {
    const plant = bad(check);
    // At the top 12 cells of 3.34 V more; two times 0.165 Ω over four strings.
    expect(worst(plant, 'K1.equalising_current').value).toBeCloseTo((12 * 3.34) / (0.165 / 2), 9);
    const found = theFinding(plant, code);
    expect(found.subject).toBe('B2');
    expect(found.message).toContain('from B2 into B1');
  });

  it('is milder where what flows is permitted', () => {
    expect(theFinding(bad(check, cells(226)), code).severity).toBe('warning');
    expect(theFinding(bad(check, cells(222)), code).message).toContain('from B1 into B2');
  });

  it('judges each case by its own limits: the cold permits no charge at all', () => {
    const cold = [
      'duty start_peak',
      'case cold { B1.temperature = 0 °C, B2.temperature = 0 °C }\nduty start_peak',
    ] as const;
    const found = theFinding(bad(check, cells(226), cold), code);
    expect(found.severity).toBe('error');
    expect(found.message).toContain('in case cold');
  });

  it('of several cases tells the gravest, wherever it stands', () => {
    const cases = [
      'duty start_peak',
      'case cold { B1.temperature = 0 °C, B2.temperature = 0 °C }\ncase warm { B1.temperature = 25 °C, B2.temperature = 25 °C }\nduty start_peak',
    ] as const;
    expect(theFinding(bad(check, cells(226), cases), code).message).toContain('in case cold');
  });

  it('says of batteries side by side, and of no others, that their closing is not looked at', () => {
    const closing = (plant: Analysed) => plant.analysis.notChecked.filter(line => line.includes('contactors close at'));
    expect(closing(bad(check))).toEqual([
      'what flows between B1 and B2 when their contactors close at unequal states of charge',
    ]);
    expect(closing(analysed(soundExample))).toEqual([]);
  });

  it('passes over half a per cent', () => {
    expect(findingsOf(bad(check, cells(225)), code)).toEqual([]);
    expect(findingsOf(bad(check, cells(224)), code)).toEqual([]);
  });

  it('needs two batteries on one converter', () => {
    const own = [
      'connect K1 -> B2',
      `converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }\nbus N1 {}\nconnect N1 -> K2 -> B2`,
    ] as const;
    const plant = bad(check, ['F1 -> K1 -> B1', 'F1 -> N1 -> K1 -> B1'], own);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(plant.analysis.values.worst('K1.equalising_current')?.value).toBeUndefined();
  });

  it('says that joining at unequal charge is not looked at', () => {
    expect(bad(check, cells(224)).analysis.notChecked.join()).toContain('B1 and B2 when their contactors close');
  });
});

describe('what it says', () => {
  const beside = (cells: number) => [
    [`cells_in_series = ${cells}`, 'The other battery’s cells in series.'],
    [expect.stringMatching(/^open_circuit_voltage = /), 'The other battery’s voltage at rest.'],
    [expect.stringMatching(/^open_circuit_voltage = /), 'Its own voltage at rest.'],
  ];

  it('of what is permitted: that they never share as reckoned', () => {
    // 2 cells of 3.34 V at 90 %, over twice 0.165 Ω / 4.
    expect(told(bad(check, cells(226)), code)).toEqual({
      message:
        'B2 and B1 stand side by side, but rest at 754.8 V and 748.2 V at 90 % state of charge: joined there 80.97 A flows from B2 into B1, and they never share as reckoned, since they come to rest at unequal states of charge.',
      at: 'cells_in_series = 226',
      related: beside(224),
      limit: undefined,
      fixes: [],
    });
  });

  it('of the one that was declared later, though it is the lower one', () => {
    expect(told(bad(check, cells(210)), code)).toMatchObject({
      message: expect.stringMatching(
        /^B1 and B2 stand side by side, but rest at 748\.2 V and 701\.4 V at 90 % .* 566\.\d A flows from B1 into B2, beyond the 466\.7 A that B2 permits for charging, /,
      ),
      at: 'cells_in_series = 210',
      related: beside(224),
      limit: '466.7 A',
    });
  });

  it('of what the one that gives permits, where that is passed and the other takes it', () => {
    const weak = ['discharge_current = 280 A', 'discharge_current = 10 A'] as const;
    const text = bad(check, cells(226)).files.get('plant.plant')!;
    const both = text.replaceAll(...weak);
    const found = theFinding(analysed(both), code);
    expect(found.message).toMatch(/, beyond the 40 A that B2 permits for discharging, /);
    expect(found.limit).toEqual({ name: undefined, number: 40, display: '40 A' });
    expect(found.value?.number).toBeCloseTo((2 * 3.34) / (0.165 / 2), 6);
  });

  it('of batteries whose limits nobody states, the case in which most flows', () => {
    const text = bad(check, cells(226), ['require T1.loading <= 95 %', 'case more { B2.cells_in_series = 228 }'])
      .files.get('plant.plant')!
      .replaceAll(/ {2}(dis)?charge_current = .*\n/g, '');
    const found = theFinding(analysed(text), code);
    expect(found).toMatchObject({ severity: 'warning', point: { case: 'more' } });
  });

  it('at the place of their windows, where they have no curve', () => {
    const text = bad(check, cells(226))
      .files.get('plant.plant')!
      .replace(/( {2})open_circuit_voltage = .*\n/, '$1voltage = 680 V .. 760 V\n')
      .replace(/( {2})open_circuit_voltage = .*\n/, '$1voltage = 700 V .. 790 V\n');
    expect(told(analysed(text), code).at).toBe('voltage = 700 V .. 790 V');
  });
});
