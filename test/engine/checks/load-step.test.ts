// Load steps on an island: the current that they need, and what the converter's limit leaves of the voltage.
import { describe, expect, it } from 'vitest';
import { loadStepCheck as check } from '../../../engine/checks/load-step.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const code = 'load_step';
const forming = (facts: string) =>
  ['power_factor = 0.95 }', `power_factor = 0.95, mode = forming, ${facts} }`] as const;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'load_step')).toEqual({
    message:
      'Switching on 250 kW beside what runs, K1 needs 988.7 A where it can carry 850 A: at that limit the voltage dips by 14.51 %, within the 15 % allowed during start_peak.',
    at: 'load_step = 250 kW',
    related: [['ac_current = 850 A', 'The rating of the converter.']],
    limit: '850 A',
    fixes: [],
  });
});

describe('a load step', () => {
  it('is silent while the converter can carry it', () => {
    expect(complaintCodes(sound(forming('load_step = 60 kW')))).toEqual([]);
  });

  it('needs more than the converter has: an error on the step', () => {
    const plant = bad(check);
    const found = theFinding(plant, code);
    expect(lineAt(plant, found.place)).toContain('load_step = 250 kW');
    expect(found.message).toContain(worst(plant, 'K1.load_step_current').display);
    expect(found.message).toContain(worst(plant, 'K1.rated_current').display);
    expect(found.message).toContain(worst(plant, 'K1.load_step_dip').display);
  });

  it('counts what runs beside it: the rest of the lasting power unless stated', () => {
    const current = (facts: string): number => worst(sound(forming(facts)), 'K1.load_step_current').value;
    expect(current('load_step = 60 kW')).toBeCloseTo(current('load_step = 60 kW, running_load = 340 kW'), 9);
    expect(current('load_step = 60 kW, running_load = 0 kW')).toBeLessThan(current('load_step = 60 kW'));
  });

  it('dips over transformer and filter as far as a voltage divider says', () => {
    const plant = sound(forming('load_step = 200 kW, load_step_power_factor = 1, running_load = 0 kW'));
    // Transformer and filter on the loads' side: 6 % of 500 kVA at 400 V, and 100 µH at 50 Hz through (400/360)².
    const base = 400 ** 2 / 500e3;
    const resistance = (5.8e3 / 500e3) * base;
    const reactance = Math.sqrt((0.06 * base) ** 2 - resistance ** 2) + 2 * Math.PI * 50 * 100e-6 * (400 / 360) ** 2;
    const load = 400 ** 2 / 200e3;
    const expected = 1 - load / Math.hypot(load + resistance, reactance);
    expect(worst(plant, 'K1.load_step_dip').value).toBeCloseTo(expected, 9);
  });

  it('with one unit lost goes through what is left alone', () => {
    const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
    const second: Edit = [
      chain,
      `filter F2 { converter_inductance = 100 µH, capacitance = 300 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
${chain}
connect T1 -> F2 -> K2 -> B1`,
    ];
    const step = 'load_step = 60 kW, running_load = 100 kW';
    const two = sound(second, forming(`${step}, lost = unit`));
    for (const name of ['load_step_dip', 'load_step_current', 'load_step_reserve'])
      expect(worst(two, `K2.${name}`).value).toBeCloseTo(worst(sound(forming(step)), `K1.${name}`).value, 9);
  });

  it('warns of a dip deeper than the practice allows', () => {
    const rule = (share: string) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, voltage_dip = ${share}`] as const;
    const step = forming('load_step = 100 kW');
    const { value } = worst(sound(step), 'K1.load_step_dip');
    const percent = (share: number): string => `${(100 * share).toFixed(6)} %`;
    expect(findingsOf(sound(step, rule(percent(value * 1.001))), code)).toEqual([]);
    expect(theFinding(sound(step, rule(percent(value * 0.999))), code)).toMatchObject({ severity: 'warning' });
  });

  it('is not judged while a network holds the voltage', () => {
    const plant = sound(['power_factor = 0.95 }', 'power_factor = 0.95, load_step = 900 kW }']);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(plant.analysis.values.worst('K1.load_step_current')?.value).toBeUndefined();
  });

  it('is said to be unchecked where the island states none', () => {
    const open = (facts: string): string => sound(forming(facts)).analysis.notChecked.join('\n');
    expect(open('motor_start = 5 kW')).toContain('load steps during start_peak');
    expect(open('load_step = 5 kW')).not.toContain('load steps during');
    expect(sound().analysis.notChecked.join()).not.toMatch(/load steps|motor starts|island/);
  });
});

describe('a duty that forms the voltage', () => {
  it('holds the nominal voltage, or the span that it states', () => {
    const at = (facts: string): number => worst(sound(forming(facts)), 'K1.current').value;
    // Less current than at the lowest network voltage, as much as on a network that never wanders.
    const stiff = worst(sound(['voltage = 400 V ± 10 %', 'voltage = 400 V ± 0.0001 %']), 'K1.current').value;
    expect(at('load_step = 5 kW')).toBeCloseTo(stiff, 1);
    expect(at('voltage = 360 V .. 440 V')).toBeCloseTo(worst(sound(), 'K1.current').value, 6);
  });

  it('changes the voltage of no network', () => {
    const plant = sound(forming('load_step = 5 kW'), [
      'for 90 s every 15 min',
      'for 90 s every 15 min, mode = forming',
    ]);
    expect(plant.analysis.values.worst('MAIN.voltage_change')?.value).toBeUndefined();
  });

  it('says what its short circuits leave open', () => {
    const open = (converter: string): string =>
      sound(forming('load_step = 5 kW'), [
        'ac_current = 850 A',
        `ac_current = 850 A${converter}`,
      ]).analysis.notChecked.join('\n');
    expect(open('')).toContain('fault current on the island of start_peak, of which K1 says nothing');
    expect(open('\n  fault_current = 1000 A')).toContain('which is all that its converters feed');
  });
});

describe('what it says', () => {
  const rule = (words: string): Edit => ['transformer_spare = 5 %', `transformer_spare = 5 %, ${words}`];
  const cells = (count: number): Edit => ['cells_in_series = 224', `cells_in_series = ${count}`];
  const at = 'load_step = 60 kW';
  const step = forming(`${at}, running_load = 300 kW`);
  const related = [['ac_current = 850 A', 'The rating of the converter.']];

  it('of a voltage that is not there, or hardly: an error, or a warning', () => {
    const [lacking, hardly] = [175, 180].map(count => sound(step, cells(count)));
    const current = worst(lacking!, 'K1.load_step_current').display;
    const short = (plant: typeof lacking) => Math.abs(worst(plant!, 'K1.load_step_reserve').value);
    expect(told(lacking!, code)).toEqual({
      message: `Switching on 60 kW beside what runs, K1 lacks ${show(short(lacking), dimensions.ratio)} of the voltage that it needs, with the battery at the bottom of its span (${current}) during start_peak.`,
      at,
      related,
      limit: '3 %',
      fixes: [],
    });
    expect(told(hardly!, code).message).toBe(
      `Switching on 60 kW beside what runs, K1 has ${show(short(hardly), dimensions.ratio)} of voltage to spare, less than the 3 % wanted, with the battery at the bottom of its span (${current}) during start_peak.`,
    );
    expect([lacking, hardly].map(plant => theFinding(plant!, code).severity)).toEqual(['error', 'warning']);
    for (const plant of [lacking, hardly]) {
      expect(theFinding(plant!, code).value?.name).toBe('K1.load_step_reserve');
      expect(theFinding(plant!, code).limit?.name).toBe('HouseRules.control_margin_worst');
    }
  });

  it('of a dip that the converter can carry: that it is the way that takes it', () => {
    const plant = sound(step, rule('voltage_dip = 1 %'));
    const { value, display } = worst(plant, 'K1.load_step_dip');
    expect(told(plant, code)).toEqual({
      message: `Switching on 60 kW beside what runs, K1 can carry its ${worst(plant, 'K1.load_step_current').display}, but over filter, transformer and cables the voltage dips by ${display}, more than the 1 % allowed during start_peak.`,
      at,
      related,
      limit: '1 %',
      fixes: [],
    });
    expect(theFinding(plant, code).value).toMatchObject({ name: 'K1.load_step_dip', number: value });
  });

  it('of several cases: the gravest, and of those that are as grave the one furthest past its limit', () => {
    const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
    const deep = rule('voltage_dip = 1 %');
    const graver = 'case usual { B1.state_of_health = 90 % }\ncase weak { B1.cells_in_series = 175 }';
    expect(theFinding(sound(step, deep, cases(graver)), code)).toMatchObject({
      severity: 'error',
      point: { case: 'weak' },
    });
    const caseOf = (text: string, ...edits: readonly Edit[]) =>
      theFinding(sound(step, ...edits, cases(text)), code).point?.case;
    const weaker = ['case weak { B1.cells_in_series = 175 }', 'case weaker { B1.cells_in_series = 174 }'];
    expect(caseOf(weaker.join('\n'))).toBe('weaker');
    expect(caseOf(weaker.toReversed().join('\n'))).toBe('weaker');
    const narrow = 'case narrow { K1.ac_current = 600 A }\ncase narrower { K1.ac_current = 500 A }';
    expect(caseOf(narrow)).toBe('narrower');
    expect(caseOf(`${narrow}\ncase heavy { start_peak.load_step = 110 kW\n  K1.ac_current = 550 A }`)).toBe('heavy');
    const strict = 'case strict { HouseRules.voltage_dip = 1 % }\ncase stricter { HouseRules.voltage_dip = 0.5 % }';
    expect(caseOf(strict)).toBe('stricter');
    // The dip is as deep everywhere: the first is told.
    expect(caseOf('case early { HouseRules.voltage_dip = 1 % }\ncase late { HouseRules.voltage_dip = 1 % }')).toBe(
      'early',
    );
    // Too little current is worse than too little voltage, however little it is.
    expect(caseOf(`case poor { K1.ac_current = 600 A }\n${weaker[1]}`)).toBe('poor');
  });

  it('of a case that states the rating: that rating', () => {
    const plant = sound(step, ['require T1.loading <= 95 %', 'case narrow { K1.ac_current = 600 A }']);
    expect(told(plant, code).related).toEqual([['K1.ac_current = 600 A', 'The rating of the converter.']]);
  });
});
