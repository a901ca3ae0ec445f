// Starting an island from a dead network: the rush of a transformer switched on at full voltage, and the idle current.
import { describe, expect, it } from 'vitest';
import { blackStartCheck as check } from '../../../engine/checks/black-start.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const code = 'black_start';
const dead = (facts = ''): Edit => [
  'power_factor = 0.95 }',
  `power_factor = 0.95, mode = forming, black_start = yes${facts} }`,
];
const transformer = (facts: string): Edit => ['no_load_loss = 800 W', `no_load_loss = 800 W\n  ${facts}`];
const converter = (facts: string): Edit => ['ac_current = 850 A', `ac_current = 850 A\n  ${facts}`];
const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];

/** Transformer of the sound plant on its 360 V side, and its filter's choke, ohm. */
const base = 360 ** 2 / 500e3;
const choke = 2 * Math.PI * 50 * 100e-6;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), code)).toEqual({
    message:
      'Starting a dead network, K1 switches T1 on at full voltage, and its rush peaks at 5.127 kA at the worst instant, more than the 1202 A that K1 can carry during start_peak; its inrush is not stated, and 10 times is common practice.',
    at: 'black_start = yes',
    related: [['ac_current = 850 A', 'The rating of the converter.']],
    limit: '1202 A',
    fixes: ['Have the converter build its voltage up with T1 connected'],
  });
});

describe('a transformer that is switched on at full voltage', () => {
  it('draws its inrush behind the choke: two reactances in series', () => {
    const peak = (multiple: number): number =>
      (Math.SQRT2 * multiple * (500e3 / Math.sqrt(3) / 360) * (base / multiple)) / (base / multiple + choke);
    expect(worst(sound(dead()), 'K1.black_start_peak').value).toBeCloseTo(peak(10), 6);
    expect(worst(sound(dead(), transformer('inrush = 7')), 'K1.black_start_peak').value).toBeCloseTo(peak(7), 6);
  });

  it('is an error where its maker states the inrush', () => {
    const plant = sound(dead(), transformer('inrush = 7'));
    const found = theFinding(plant, code);
    expect(found.severity).toBe('error');
    expect(lineAt(plant, found.place)).toContain('black_start = yes');
    expect(found.message).toMatch(/; its maker states an inrush of 7 times\.$/);
    expect(found.value?.name).toBe('K1.black_start_peak');
    expect(found.limit).toMatchObject({ name: 'K1.short_time_peak', number: Math.SQRT2 * 850 });
    expect(told(plant, code).related).toEqual([
      ['inrush = 7', 'Its inrush.'],
      ['ac_current = 850 A', 'The rating of the converter.'],
    ]);
  });

  it('may use an overload that lasts a second, or that of a duty class', () => {
    const limit = (facts: string): number => worst(sound(dead(), converter(facts)), 'K1.short_time_peak').value;
    expect(limit('overload = 150 % for 1 s every 600 s')).toBeCloseTo(1.5 * Math.SQRT2 * 850, 9);
    expect(limit('overload = 150 % for 0.9 s every 600 s')).toBeCloseTo(Math.SQRT2 * 850, 9);
    // IEC 60146-1-1, from memory: III 200 % for 10 s.
    expect(limit('overload_class = III')).toBeCloseTo(2 * Math.SQRT2 * 850, 9);
    const enough = converter('overload = 450 % for 2 s every 600 s');
    expect(complaintCodes(sound(dead(), enough))).toEqual([]);
    const short = converter('overload = 400 % for 2 s every 600 s');
    expect(told(sound(dead(), short), code).related).toEqual([
      ['overload = 400 % for 2 s every 600 s', 'The overload of the converter.'],
      ['ac_current = 850 A', 'The rating of the converter.'],
    ]);
    expect(told(sound(dead(), converter('overload_class = III')), code).related[0]).toEqual([
      'overload_class = III',
      'The overload of the converter.',
    ]);
  });

  it('is shared by the converters behind it', () => {
    const second = `converter K2 {\n  ac_current = 850 A\n  dc_voltage = 550 V .. 850 V\n  switching_frequency = 4 kHz\n}\nfilter F2 {\n  converter_inductance = 100 µH\n  capacitance = 300 µF\n}`;
    const plant = sound(dead(), [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `${second}\nconnect MAIN -> T1 -> F1 -> K1 -> B1\nconnect T1 -> F2 -> K2 -> B1`,
    ]);
    const saturated = base / 10;
    const whole = (Math.SQRT2 * 360) / Math.sqrt(3) / (saturated + choke / 2);
    expect(worst(plant, 'K1.black_start_peak').value).toBeCloseTo(whole / 2, 6);
    expect(worst(plant, 'K2.black_start_peak').value).toBeCloseTo(whole / 2, 6);
  });

  it('behind another one counts from there, at the converter’s voltage: the graver of the two is told', () => {
    const row = (near: string, far: string) =>
      sound(dead(), transformer(near), [
        'connect MAIN -> T1',
        `transformer T2 {\n  rated_power = 630 kVA\n  primary_voltage = 400 V\n  secondary_voltage = 400 V\n  impedance = 4 %\n  load_loss = 6 kW\n  no_load_loss = 900 W\n  ${far}\n}\nconnect MAIN -> T2 -> T1`,
      ]);
    const far = row('magnetised_from = converter_side', 'inrush = 8');
    expect(theFinding(far, code).message).toContain('K1 switches T2 on');
    // On the 400 V side: the core of T2 behind T1’s short-circuit impedance and the choke, through (400/360)².
    const loaded = 400 ** 2 / 500e3;
    const resistance = (5.8e3 / 500e3) * loaded;
    const reactance = Math.sqrt((0.06 * loaded) ** 2 - resistance ** 2) + choke * (400 / 360) ** 2;
    const core = 400 ** 2 / 630e3 / 8;
    const peak = (Math.SQRT2 * 400) / Math.sqrt(3) / Math.hypot(resistance, reactance + core);
    expect(worst(far, 'K1.black_start_peak').value).toBeCloseTo((peak * 400) / 360, 6);
    expect(theFinding(row('inrush = 12', 'inrush = 8'), code).message).toContain('K1 switches T1 on');
    expect(theFinding(row('inrush = 1.5', 'inrush = 12'), code).message).toContain('K1 switches T2 on');
    const both = row('magnetised_from = converter_side', 'magnetised_from = converter_side');
    expect(findingsOf(both, code)).toEqual([]);
  });

  it('turned round counts the winding that looks to the converter', () => {
    const plant = sound(
      dead(),
      ['primary_voltage = 400 V', 'primary_voltage = 360 V'],
      ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'],
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect B1 -> K1 -> F1 -> T1 -> MAIN'],
    );
    expect(worst(plant, 'K1.black_start_peak').value).toBeCloseTo(worst(sound(dead()), 'K1.black_start_peak').value, 6);
  });
});

describe('a transformer that the converter magnetises while it builds its voltage up', () => {
  it('rushes nothing', () => {
    const plant = sound(dead(), transformer('magnetised_from = converter_side'));
    expect(complaintCodes(plant)).toEqual([]);
    expect(plant.analysis.values.worst('K1.black_start_peak')?.value).toBeUndefined();
  });

  it('in one case does not so in another', () => {
    const slow = transformer('magnetised_from = converter_side');
    const plant = sound(dead(), slow, cases('case by_hand { T1.magnetised_from = network_side\n  T1.inrush = 9 }'));
    const found = theFinding(plant, code);
    expect(found.point?.case).toBe('by_hand');
    expect(told(plant, code)).toMatchObject({
      related: [
        ['T1.inrush = 9', 'Its inrush.'],
        ['T1.magnetised_from = network_side', 'The side from which it is magnetised.'],
        ['ac_current = 850 A', 'The rating of the converter.'],
      ],
      fixes: [],
    });
  });

  it('takes the place of the stated side in the fix', () => {
    const plant = sound(dead(), transformer('magnetised_from = network_side'));
    const [fix] = theFinding(plant, code).fixes;
    expect(fix!.edits.map(({ text }) => text)).toEqual(['converter_side']);
  });
});

describe('the current before any load', () => {
  it('is that of capacitor less magnetising, over what the choke makes of it', () => {
    const slow = transformer('magnetised_from = converter_side\n  no_load_current = 2 %');
    const { value } = worst(sound(dead(), slow), 'K1.black_start_current');
    // Capacitor of 300 µF at 360 V, magnetising 2 % of 802 A, nearly in opposition; the rest is a few per cent.
    const capacitor = 2 * Math.PI * 50 * 300e-6 * (360 / Math.sqrt(3));
    const magnetising = Math.sqrt(0.02 ** 2 - (800 / 500e3) ** 2) * (500e3 / Math.sqrt(3) / 360);
    expect(value / (capacitor - magnetising)).toBeGreaterThan(0.95);
    expect(value / (capacitor - magnetising)).toBeLessThan(1.1);
  });

  it('more than the converter has: an error', () => {
    const slow = transformer('magnetised_from = converter_side');
    const plant = sound(dead(), slow, ['ac_current = 850 A', 'ac_current = 11 A']);
    expect(told(plant, code)).toEqual({
      message:
        'Starting a dead network, K1 needs 11.77 A for filter and magnetising alone, before any load, more than the 11 A that it can carry during start_peak.',
      at: 'black_start = yes',
      related: [['ac_current = 11 A', 'The rating of the converter.']],
      limit: '11 A',
      fixes: [],
    });
    expect(theFinding(plant, code)).toMatchObject({
      severity: 'error',
      value: { name: 'K1.black_start_current' },
      limit: { name: 'K1.rated_current', number: 11 },
    });
  });
});

describe('what is left open', () => {
  const open = (...edits: readonly Edit[]) =>
    sound(...edits).analysis.notChecked.filter(words => words.includes('dead network'));
  const rest =
    'what else the start of start_peak from a dead network needs: a supply of controls, contactors and cooling until the voltage stands, transformers beyond the connection point, and loads that come back one by one, but for the largest (`load_step`, `motor_start`)';
  const forming = (facts: string): Edit => ['power_factor = 0.95 }', `power_factor = 0.95, mode = forming${facts} }`];

  it('is whether an island starts dead, where nothing says so', () => {
    expect(open(forming(''))).toEqual([
      'the start of start_peak from a dead network, for which `black_start` says neither yes nor no',
    ]);
    expect(open(forming(', black_start = no'))).toEqual([]);
    expect(open()).toEqual([]);
  });

  it('is what feeds the rest meanwhile, where it does', () => {
    expect(open(dead())).toEqual([rest]);
    expect(open(forming(', black_start = no'), cases('case storm { start_peak.black_start = yes }'))).toEqual([rest]);
  });

  it('is nothing of a start that no island asks for', () => {
    const plant = sound(['power_factor = 0.95 }', 'power_factor = 0.95, black_start = yes }']);
    expect(findingsOf(plant, code)).toEqual([]);
    expect(plant.analysis.values.worst('K1.black_start_current')?.value).toBeUndefined();
    expect(open(['power_factor = 0.95 }', 'power_factor = 0.95, black_start = yes }'])).toEqual([]);
    const elsewhere = cases('case away { start_peak.mode = forming\n  start_peak.black_start = no }');
    expect(open(['power_factor = 0.95 }', 'power_factor = 0.95, black_start = yes }'], elsewhere)).toEqual([]);
  });
});
