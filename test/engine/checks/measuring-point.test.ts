// Where and how well the control measures what is promised at the network.
import { describe, expect, it } from 'vitest';
import { measuringPoint as check } from '../../../engine/checks/measuring-point.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'measuring_point')).toEqual({
    message:
      'By the errors of its measurements K1’s reactive power may be wrong by 46.49 kvar, 8.772 % of its rating, more than the customary 5 % during start_peak, at the lowest network voltage: a control of voltage makes its voltage wrong by what it measures wrong, and the reactance alone limits the current.',
    at: 'voltage_error = 2 %',
    related: [['control = voltage', 'What its control makes.']],
    limit: '26.5 kvar',
    fixes: [],
  });
});

const stating = (facts: string): Edit => [
  'ac_current = 850 A',
  `ac_current = 850 A\n  ${facts.replaceAll('; ', '\n  ')}`,
];
const messagesOf = (...edits: readonly Edit[]) => findingsOf(sound(...edits), code).map(({ message }) => message);

describe('the place', () => {
  it('is right at the network and at the network side of the transformer', () => {
    expect(messagesOf(stating('measuring_point = MAIN'))).toEqual([]);
    expect(messagesOf(stating('measuring_point = T1'))).toEqual([]);
    expect(worst(sound(stating('measuring_point = T1')), 'K1.unmeasured_reactive_power').value).toBe(0);
  });

  it('is right behind a cable, whose reactive power is little', () => {
    const cable: Edit = [
      'connect MAIN -> T1',
      'cable W1 { length = 5 m, cross_section = 240 mm², parallel = 4 }\nbus N1 {}\nconnect MAIN -> W1 -> N1 -> T1',
    ];
    expect(messagesOf(cable, stating('measuring_point = N1'))).toEqual([]);
    expect(worst(sound(cable, stating('measuring_point = N1')), 'K1.unmeasured_reactive_power').value).toBeGreaterThan(
      100,
    );
  });

  it('is wrong behind the transformer by its reactive power', () => {
    const plant = sound(stating('measuring_point = F1'));
    expect(theFinding(plant, code).message).toMatch(
      /^K1’s control measures at F1, behind T1, and does not see their \d.* kvar of reactive power, \d.* % of its rating during start_peak, at the lowest network voltage/,
    );
    // By hand: 3·X·I² with X 15.26 mΩ at 360 V and the winding’s current, and 1 % of 500 kVA for the core at 0.9 of its
    // voltage, squared.
    const current = worst(plant, 'T1.secondary_current').value;
    const core = Math.sqrt(0.01 ** 2 - (800 / 500e3) ** 2) * 500e3 * 0.9 ** 2;
    expect(worst(plant, 'K1.unmeasured_reactive_power').value).toBeCloseTo(3 * 0.0152586 * current ** 2 + core, -2);
  });

  it('is wrong behind filter and transformer at the converter’s own terminals', () => {
    expect(messagesOf(stating('measuring_point = K1'))[0]).toContain('behind T1 and F1');
  });

  it('is wrong where no power passes', () => {
    const aside: Edit = [
      'connect MAIN -> T1',
      'transformer T9 { rated_power = 100 kVA, primary_voltage = 400 V, secondary_voltage = 360 V, impedance = 6 % }\nconnect MAIN -> T1',
    ];
    expect(messagesOf(aside, stating('measuring_point = T9'))).toEqual([
      'K1’s control measures at T9, which does not lie between it and its network.',
    ]);
  });

  it('is told with what stands in between and what that costs, as far as it is known', () => {
    const plant = sound(stating('measuring_point = K1'));
    const { display, value } = worst(plant, 'K1.unmeasured_reactive_power');
    const share = show(value / (Math.sqrt(3) * 360 * 850), dimensions.ratio);
    expect(told(plant, code)).toEqual({
      message: `K1’s control measures at K1, behind T1 and F1, and does not see their ${display} of reactive power, ${share} of its rating during start_peak, at the lowest network voltage, absorbing reactive power: what is promised at the network is not what it controls.`,
      at: 'measuring_point = K1',
      related: [
        ['T1', 'Stands in between.'],
        ['F1', 'Stands in between.'],
      ],
      limit: undefined,
      fixes: ['Measure at MAIN'],
    });
    const unknown = sound(stating('measuring_point = K1'), ['  ac_current = 850 A\n', '']);
    expect(theFinding(unknown, code)).toMatchObject({ severity: 'warning' });
  });

  it('is told without a number where none is known', () => {
    const noDuty = sound(stating('measuring_point = K1'), ['impedance = 6 % ± 10 %', 'impedance = 6 V']);
    expect(theFinding(noDuty, code).message).toBe(
      'K1’s control measures at K1, behind T1 and F1: what is promised at the network is not what it controls.',
    );
  });

  it('is not judged where the converter has no network', () => {
    const island: Edit = ['connect MAIN -> T1 -> F1 -> K1', 'connect T1 -> F1 -> K1'];
    expect(messagesOf(island, stating('measuring_point = F1'))).toEqual([]);
  });

  it('is offered at the network', () => {
    expect(expectFixesToHold(sound(stating('measuring_point = F1')), code)).toBe(1);
  });

  describe('that a case alone states', () => {
    const inCases = (...cases: readonly string[]) =>
      sound(stating('measuring_point = MAIN'), ['require T1.loading <= 95 %', cases.join('\n')]);

    it('is judged there, by what the control misses there', () => {
      const plant = inCases('case usual { B1.state_of_health = 90 % }', 'case other { K1.measuring_point = F1 }');
      const found = theFinding(plant, code);
      expect(found.message).toMatch(/^K1’s control measures at F1, behind T1, and does not see .* in case other: what/);
      expect(told(plant, code)).toMatchObject({ at: 'K1.measuring_point = F1', fixes: ['Measure at MAIN'] });
      expect(found.point?.case).toBe('other');
      expect(expectFixesToHold(plant, code)).toBe(1);
    });

    it('is told in the case in which it misses most, and not in one that measures elsewhere', () => {
      const plant = inCases(
        'case other { K1.measuring_point = F1 }',
        'case hard { K1.measuring_point = F1\n  start_peak.discharge = 410 kW }',
        'case harder { start_peak.discharge = 420 kW }',
      );
      expect(theFinding(plant, code).point?.case).toBe('hard');
      expect(lineAt(plant, theFinding(plant, code).place)).toContain('case other');
    });

    it('is told of each place once', () => {
      const aside =
        'transformer T9 { rated_power = 100 kVA, primary_voltage = 400 V, secondary_voltage = 360 V, impedance = 6 % }\nconnect MAIN -> T9';
      const plant = inCases(
        aside,
        'case a { K1.measuring_point = T9 }',
        'case b { K1.measuring_point = K1 }',
        'case c { K1.measuring_point = T9 }',
      );
      const said = findingsOf(plant, code).map(({ message }) => message);
      expect(said).toHaveLength(2);
      expect(said).toContain('K1’s control measures at T9 in case a, which does not lie between it and its network.');
      expect(said.find(words => words.includes('at K1'))).toMatch(/ in case b: what is promised/);
    });

    it('is told without a number where none is known', () => {
      const plant = sound(
        stating('measuring_point = MAIN'),
        ['impedance = 6 % ± 10 %', 'impedance = 6 V'],
        ['require T1.loading <= 95 %', 'case other { K1.measuring_point = K1 }'],
      );
      expect(theFinding(plant, code).message).toBe(
        'K1’s control measures at K1 in case other, behind T1 and F1: what is promised at the network is not what it controls.',
      );
    });
  });
});

describe('errors of measurement', () => {
  // By hand, on the converter’s side: choke 100 µH, winding 6 % of 0.2592 Ω less its resistance, network of 14 MVA with
  // X/R = 5 through (360/400)².
  const choke = 2 * Math.PI * 50 * 100e-6;
  const base = 360 ** 2 / 500e3;
  const winding = Math.sqrt((0.06 * base) ** 2 - ((5800 / 500e3) * base) ** 2);
  const network = (((400 ** 2 / 14e6) * 5) / Math.hypot(1, 5)) * 0.9 ** 2;
  const rated = Math.sqrt(3) * 360 * 850;

  it('of a control of voltage work through the reactance alone', () => {
    const plant = sound(stating('control = voltage; voltage_error = 0.5 %'));
    expect(worst(plant, 'K1.coupling_reactance').value).toBeCloseTo(choke + winding + network, 9);
    expect(worst(plant, 'K1.reactive_error').value).toBeCloseTo((0.005 * 360 ** 2) / (choke + winding + network), 3);
  });

  it('are judged by the practice', () => {
    const limit = (100 * 0.05 * rated * (choke + winding + network)) / 360 ** 2;
    const error = (percent: number) => stating(`control = voltage; voltage_error = ${percent} %`);
    expectLimit(code, [error(limit * 0.999)], [error(limit * 1.001)], 'warning');
    const finding = theFinding(sound(error(limit * 1.001)), code);
    expect(finding.limit?.number).toBeCloseTo(0.05 * rated, 0);
    expect(finding.message).toContain('the reactance alone limits the current');
  });

  it('of a control of current are those of its transducers', () => {
    const plant = sound(stating('current_error = 1 %; voltage_error = 0.5 %'));
    const reactive = Math.tan(Math.acos(0.95)) * 400e3;
    expect(worst(plant, 'K1.reactive_error').value).toBeCloseTo(0.01 * rated + 0.005 * reactive, 3);
    expectLimit(code, [stating('current_error = 4.99 %')], [stating('current_error = 5.01 %')], 'warning');
  });

  it('follow from a duty that forms the voltage, where nothing is said of the control', () => {
    const forming: Edit = ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming }'];
    const error = stating('voltage_error = 1 %');
    const quiet = worst(sound(error), 'K1.reactive_error').value;
    expect(worst(sound(error, forming), 'K1.reactive_error').value).toBeGreaterThan(5 * quiet);
    expect(worst(sound(error, forming, stating('control = current')), 'K1.reactive_error').value).toBe(quiet);
  });

  it('are unknown where none is stated', () => {
    for (const facts of ['control = voltage', 'control = current', 'control = voltage; current_error = 1 %'])
      expect(sound(stating(facts)).analysis.values.worst('K1.reactive_error')?.value).toBeUndefined();
  });

  it('of its transducers stand where they are stated', () => {
    const plant = sound(stating('current_error = 6 %'));
    const { display } = worst(plant, 'K1.reactive_error');
    expect(told(plant, code)).toMatchObject({
      message: `By the errors of its measurements K1’s reactive power may be wrong by ${display}, 6 % of its rating, more than the customary 5 % during start_peak, at the lowest network voltage: the transducers are too coarse for it.`,
      at: 'current_error = 6 %',
      limit: '26.5 kvar',
    });
    const other = sound(stating('current_error = 4 %'), [
      'require T1.loading <= 95 %',
      'case strict { HouseRules.reactive_error = 3 % }',
    ]);
    expect(theFinding(other, code).message).toMatch(
      /, 4 % of its rating, more than the customary 3 % .* in case strict: /,
    );
  });
});
