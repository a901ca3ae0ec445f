// Jumps of the network’s voltage.
import { describe, expect, it } from 'vitest';
import { voltageChangeCheck as check } from '../../../engine/checks/voltage-change.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'voltage_change')).toEqual({
    message:
      'The voltage at MAIN jumps by 2.304 % when this begins or ends, more than the 1 % that is allowed during start_peak, delivering reactive power.',
    at: 'voltage_change_limit = 1 %',
    related: [['discharge = 400 kW for 45 min', 'This duty does it.']],
    limit: '1 %',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('agrees with the formula at the lowest fault power', () => {
    // R + jX of 9 MVA at 400 V with X/R = 5, P = 400 kW, Q = 400 kW·tan(acos 0.95).
    const impedance = 400 ** 2 / 9e6;
    const resistance = impedance / Math.hypot(1, 5);
    const change = (resistance * 400e3 + 5 * resistance * 400e3 * Math.tan(Math.acos(0.95))) / 400 ** 2;
    expect(worst(sound(), 'MAIN.voltage_change').value).toBeCloseTo(change, 6);
  });

  it('is a warning where only custom asks for it', () => {
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  voltage_change = 2 %'] as const;
    expect(theFinding(sound(rule), code).severity).toBe('warning');
  });
});

describe('switching a transformer on', () => {
  const stating = (inrush: string, limit: string): readonly Edit[] => [
    ['no_load_loss = 800 W', `no_load_loss = 800 W${inrush === '' ? '' : `\n  ${inrush}`}`],
    ['fault_power = 9 MVA .. 14 MVA', `fault_power = 9 MVA .. 14 MVA${limit === '' ? '' : `\n  ${limit}`}`],
  ];
  // By hand: X_s = Z_r/k, 2·X_s for the fundamental of a half wave, behind the impedance of 9 MVA at 400 V with X/R = 5.
  const byHand = (multiple: number, line = { resistance: 0, reactance: 0 }) => {
    const saturated = (2 * (400 ** 2 / 500e3)) / multiple;
    const network = 400 ** 2 / 9e6;
    const [r, x] = [network / Math.hypot(1, 5), (5 * network) / Math.hypot(1, 5)];
    const kept = Math.hypot(line.resistance, saturated + line.reactance);
    return 1 - kept / Math.hypot(r + line.resistance, x + saturated + line.reactance);
  };

  it('makes the dip of two reactances in series', () => {
    expect(worst(sound(...stating('inrush = 8', '')), 'T1.inrush_dip').value).toBeCloseTo(byHand(8), 9);
    expect(worst(sound(), 'T1.inrush_dip').value).toBeCloseTo(byHand(10), 9);
    // At 14 MVA: 10·√2·500 kVA/(√3·400 V) less the share of the network.
    const network = 400 ** 2 / 14e6;
    const [r, x] = [network / Math.hypot(1, 5), (5 * network) / Math.hypot(1, 5)];
    const peak = (10 * Math.SQRT2 * 500e3) / (Math.sqrt(3) * 400);
    expect(worst(sound(), 'T1.inrush_current').value).toBeCloseTo((peak * 0.032) / Math.hypot(r, x + 0.032), 6);
  });

  it('counts the cable before it, which keeps the connection up', () => {
    const cable: Edit = [
      'connect MAIN -> T1',
      'cable W1 { length = 100 m, cross_section = 240 mm², parallel = 4, reactance = 0.1 ohm/km, insulation = pvc }\nconnect MAIN -> W1 -> T1',
    ];
    // 0.0754 Ω/km at 20 °C, 70 °C: ·304.5/254.5; skin effect below 1 %.
    const line = { resistance: (25e-3 * 0.0754 * 304.5) / 254.5, reactance: 2.5e-3 };
    expect(worst(sound(cable), 'T1.inrush_dip').value).toBeCloseTo(byHand(10, line), 4);
  });

  it('is judged where the maker states it and the owner a limit', () => {
    const limit = `voltage_change_limit = ${100 * byHand(8)} %`;
    expectLimit(code, stating('inrush = 7.99', limit), stating('inrush = 8.01', limit), 'warning');
    expect(theFinding(sound(...stating('inrush = 8.01', limit)), code).message).toMatch(
      /^Switching T1 on takes 17\.\d* % off the voltage at MAIN for the first periods, more than the 17\.\d* % that is allowed there\.$/,
    );
  });

  it('is not judged by guess, nor where the converter magnetises it, and the first is said', () => {
    const notChecked = (...edits: readonly Edit[]) => sound(...edits).analysis.notChecked.join('\n');
    const limit = 'voltage_change_limit = 5 %';
    expect(findingsOf(sound(...stating('', limit)), code)).toEqual([]);
    expect(notChecked(...stating('', limit))).toContain('T1 is switched on: `inrush` is not stated');
    expect(notChecked(...stating('inrush = 8', ''))).toContain('the network states no `voltage_change_limit`');
    const gentle = stating('inrush = 8\n  magnetised_from = converter_side', limit);
    expect(findingsOf(sound(...gentle), 'syntax')).toEqual([]);
    expect(findingsOf(sound(...gentle), code)).toEqual([]);
    expect(sound(...gentle).analysis.values.worst('T1.inrush_dip')?.value).toBeUndefined();
    expect(notChecked(...gentle)).not.toContain('switched on');
    expect(notChecked(...stating('inrush = 8', limit))).not.toContain('switched on');
  });
});

describe('what it says', () => {
  const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
  const inrush: Edit = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  inrush = 8'];
  const owner = (percent: number): Edit => [
    'fault_power = 9 MVA .. 14 MVA',
    `fault_power = 9 MVA .. 14 MVA\n  voltage_change_limit = ${percent} %`,
  ];

  it('of a custom: on the network’s power, by the rule', () => {
    const plant = sound(['transformer_spare = 5 %', 'transformer_spare = 5 %\n  voltage_change = 2 %']);
    expect(told(plant, code)).toEqual({
      message: `The voltage at MAIN jumps by ${worst(plant, 'MAIN.voltage_change').display} when this begins or ends, more than the 2 % that is allowed during start_peak, delivering reactive power.`,
      at: 'fault_power = 9 MVA .. 14 MVA',
      related: [['discharge = 400 kW for 45 min', 'This duty does it.']],
      limit: '2 %',
      fixes: [],
    });
    expect(theFinding(plant, code).limit?.name).toBe('HouseRules.voltage_change');
  });

  it('of a transformer that is switched on: beside what its maker states', () => {
    const plant = sound(inrush, owner(5));
    expect(told(plant, code)).toMatchObject({
      at: 'voltage_change_limit = 5 %',
      related: [['inrush = 8', 'Its inrush, as the maker states it.']],
      limit: '5 %',
    });
    expect(theFinding(plant, code)).toMatchObject({ severity: 'warning', subject: 'MAIN' });
    const strict = sound(inrush, owner(60), cases('case strict { MAIN.voltage_change_limit = 10 % }'));
    expect(theFinding(strict, code).message).toMatch(/ more than the 10 % that is allowed there in case strict\.$/);
    const stated = sound(owner(5), cases('case strong { T1.inrush = 8 }'));
    expect(findingsOf(stated, code).map(({ point }) => point?.case)).toEqual(['strong']);
  });

  it('leaves unsaid nothing of several transformers', () => {
    const second: Edit = [
      'connect MAIN -> T1 -> F1',
      'transformer T2 { rated_power = 500 kVA, primary_voltage = 400 V, secondary_voltage = 400 V, impedance = 6 % ± 10 % }\nconnect MAIN -> T2 -> T1 -> F1',
    ];
    expect(sound(second).analysis.notChecked).toContain(
      'the dip of the network’s voltage when T1 and T2 are switched on: the network states no `voltage_change_limit`',
    );
    expect(sound(second, inrush, owner(5)).analysis.notChecked).toContain(
      'the dip of the network’s voltage when T2 is switched on: `inrush` is not stated',
    );
  });
});
