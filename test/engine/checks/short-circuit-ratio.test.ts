// Short-circuit ratio at the connection point against the least that a converter is made for.
import { describe, expect, it } from 'vitest';
import { shortCircuitRatioCheck as check } from '../../../engine/checks/short-circuit-ratio.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'short_circuit_ratio')).toEqual({
    message:
      'The network at MAIN has 16.98 times the power of the converters on it at its lowest short-circuit power; K1 is made for 20 times at least.',
    at: 'least_short_circuit_ratio = 20',
    related: [['fault_power = 9 MVA .. 14 MVA', 'The network’s short-circuit power.']],
    limit: '20',
    fixes: [],
  });
});

const least = (ratio: number): Edit => [
  'ac_current = 850 A',
  `ac_current = 850 A\n  least_short_circuit_ratio = ${ratio}`,
];

describe('the ratio', () => {
  it('is the lowest short-circuit power over the rated power behind the transformer', () => {
    // By hand: 9 MVA / (√3 · 360 V · 850 A).
    expect(worst(sound(), 'MAIN.short_circuit_ratio').value).toBeCloseTo(9e6 / (Math.sqrt(3) * 360 * 850), 9);
  });

  it('counts every converter on the network', () => {
    const two: Edit = [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `bus N1 {}\nbus N2 {}
converter K2 { ac_current = 400 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
connect MAIN -> T1 -> F1 -> N1\nconnect N1 -> K1 -> N2 -> B1\nconnect N1 -> K2 -> N2`,
    ];
    expect(worst(sound(two), 'MAIN.short_circuit_ratio').value).toBeCloseTo(9e6 / (Math.sqrt(3) * 360 * 1250), 9);
  });
});

describe('the judgement', () => {
  it('holds down to the least that is stated', () => {
    const ratio = worst(sound(), 'MAIN.short_circuit_ratio').value;
    expectLimit(code, [least(ratio - 0.01)], [least(ratio + 0.01)], 'error');
    expect(theFinding(bad(check), code).value?.name).toBe('MAIN.short_circuit_ratio');
  });

  it('finds the case with the weaker network', () => {
    const weak: Edit = [
      '\nrequire T1.loading',
      '\ncase weak { MAIN.fault_power = 5 MVA .. 6 MVA }\n\nrequire T1.loading',
    ];
    expect(findingsOf(sound(least(12)), code)).toEqual([]);
    expect(theFinding(sound(least(12), weak), code).message).toMatch(/ 12 times at least in case weak\.$/);
  });

  it('is said to be missing without short-circuit power', () => {
    const silent: Edit = ['  fault_power = 9 MVA .. 14 MVA\n', ''];
    expect(findingsOf(sound(least(3), silent), code).map(({ severity, message }) => `${severity}: ${message}`)).toEqual(
      ['note: K1’s least short-circuit ratio is not checked: MAIN states no `fault_power`.'],
    );
    expect(findingsOf(sound(silent), code)).toEqual([]);
    const unread: Edit = ['fault_power = 9 MVA .. 14 MVA', 'fault_power = 9 m .. 14 m'];
    expect(findingsOf(sound(least(3), unread), code)).toEqual([]);
  });
});

describe('where no maker states a least ratio', () => {
  const power = 'fault_power = 9 MVA .. 14 MVA';
  const weak = (megavolt: number): Edit => [power, `fault_power = ${megavolt} MVA .. 14 MVA`];
  // Three: the encyclopedia article "Short circuit ratio (electrical grid)" calls a network from 2 to 3 weak and below 2
  // very weak (seen in source); IEEE 1204 draws the same lines for line-commutated links (from memory).
  // By hand: three times √3 · 360 V · 850 A.
  const customary = (3 * Math.sqrt(3) * 360 * 850) / 1e6;
  const others: Edit = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  voltage_change = 50 %'];

  it('the customary one is taken, and the maker is to be asked', () => {
    expectLimit(code, [weak(customary + 0.001), others], [weak(customary - 0.001), others], 'warning');
    expect(told(sound(weak(1.2), others), code)).toEqual({
      message:
        'The network at MAIN has 2.264 times the power of the converters on it at its lowest short-circuit power, less than the customary 3: only the maker of K1 can say whether a control of current is stable there; ask, and state `least_short_circuit_ratio`.',
      at: 'fault_power = 1.2 MVA .. 14 MVA',
      related: [],
      limit: '3',
      fixes: [],
    });
  });

  it('a rule of the house takes its place, and what a maker states takes that of both', () => {
    const rule = (ratio: number): Edit => [
      'transformer_spare = 5 %',
      `transformer_spare = 5 %\n  short_circuit_ratio = ${ratio}`,
    ];
    expect(theFinding(sound(rule(20)), code)).toMatchObject({ severity: 'warning', limit: { number: 20 } });
    expect(told(sound(rule(20)), code).related).toEqual([['short_circuit_ratio = 20', 'The house rule.']]);
    expect(findingsOf(sound(rule(10)), code)).toEqual([]);
    expect(findingsOf(sound(rule(20), least(10)), code)).toEqual([]);
    expect(theFinding(sound(rule(10), least(20)), code).severity).toBe('error');
  });

  it('it is told once for a network, with all of which nobody knows', () => {
    const three: Edit = [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `bus N1 {}\nbus N2 {}
converter K2 { ac_current = 400 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
converter K3 { ac_current = 400 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
connect MAIN -> T1 -> F1 -> N1\nconnect N1 -> K1 -> N2 -> B1\nconnect N1 -> K2 -> N2\nconnect N1 -> K3 -> N2`,
    ];
    expect(theFinding(sound(three, weak(2)), code)).toMatchObject({ subject: 'K1' });
    expect(theFinding(sound(three, weak(2)), code).message).toContain('only the maker of K1, K2 and K3 can say');
    const known = theFinding(sound(three, weak(2), least(1)), code);
    expect(known.subject).toBe('K2');
    expect(known.message).toContain('only the maker of K2 and K3 can say');
  });

  it('nothing is said of a converter whose least could not be understood', () => {
    const unread: Edit = ['ac_current = 850 A', 'ac_current = 850 A\n  least_short_circuit_ratio = 2 m'];
    expect(findingsOf(sound(weak(1.2), unread), code)).toEqual([]);
  });

  it('nothing is said where the plant makes the voltage itself, in the cases where it does', () => {
    const forming = ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming }'] as const;
    const braking = ['every 15 min }', 'every 15 min, mode = forming }'] as const;
    expect(findingsOf(sound(weak(1.2), forming), code)).toHaveLength(1);
    expect(findingsOf(sound(weak(1.2), forming, braking), code)).toEqual([]);
    const inCase: Edit = ['require T1.loading', 'case tied { braking.mode = following }\n\nrequire T1.loading'];
    expect(theFinding(sound(weak(1.2), forming, braking, inCase), code).message).toContain(' in case tied:');
  });
});

describe('what it says', () => {
  it('of a least ratio that only a case states, without a network that says its power', () => {
    const silent: Edit = ['  fault_power = 9 MVA .. 14 MVA\n', ''];
    const inCase: Edit = [
      'require T1.loading <= 95 %',
      'case usual { B1.state_of_health = 90 % }\ncase other { K1.least_short_circuit_ratio = 3 }',
    ];
    expect(theFinding(sound(silent, inCase), code)).toMatchObject({ severity: 'note', subject: 'K1' });
    const plant = sound(['require T1.loading <= 95 %', 'case other { K1.least_short_circuit_ratio = 30 }']);
    expect(told(plant, code)).toMatchObject({
      message: expect.stringMatching(/ 30 times at least in case other\.$/),
      at: 'K1.least_short_circuit_ratio = 30',
      limit: '30',
    });
  });

  it('nothing of a converter without a network', () => {
    const island: Edit = ['connect MAIN -> T1 -> F1 -> K1', 'connect T1 -> F1 -> K1'];
    expect(findingsOf(sound(least(30), island), code)).toEqual([]);
  });
});
