// Dips, swells and frequencies that a network asks its plants to ride through.
import { describe, expect, it } from 'vitest';
import { circulatingCurrent } from '../../../engine/checks/circulating-current.ts';
import { rideThroughCheck as check } from '../../../engine/checks/ride-through.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const code = 'ride_through';
const grid = (...facts: readonly string[]) => ['x_over_r = 5', ['x_over_r = 5', ...facts].join('\n  ')] as const;
/** A converter that operates up to this, V. */
const upTo = (volts: number): Edit => ['dc_voltage = 550 V .. 850 V', `dc_voltage = 550 V .. ${volts} V`];
const converter = (...facts: readonly string[]) =>
  ['ac_current = 850 A', ['ac_current = 850 A', ...facts].join('\n  ')] as const;
const dip = (ratio: string) => `low_voltage_ride_through = curve time { 0 s ${ratio}, 500 ms ${ratio}, 510 ms 90 % }`;
const swell = (ratio: string, time = '100 ms', then = '110 ms') =>
  `high_voltage_ride_through = curve time { 0 s ${ratio}, ${time} ${ratio}, ${then} 110 % }`;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'ride_through')).toEqual({
    message:
      'To hold its power in the deepest dip K1 needs 1283 A, and 850 A is its rating during start_peak: 66.25 % of the power is left.',
    at: 'low_voltage_ride_through = curve time { 0 s 50 %, 500 ms 50 %, 510 ms 90 % }',
    related: [
      ['ac_current = 850 A', 'The rating of the converter.'],
      ['discharge = 400 kW for 45 min', 'This duty asks for it.'],
    ],
    limit: '850 A',
    fixes: [],
  });
});

describe('a dip', () => {
  it('is silent where the power may fall', () => {
    expect(complaintCodes(sound(grid(dip('5 %'))))).toEqual([]);
  });

  it('asks for the current that the power needs at the voltage that is left', () => {
    const plant = bad(check);
    // 400 kW at half of 400 V, on the converter's side of 400/360.
    expect(worst(plant, 'K1.dip_current').value).toBeCloseTo((400e3 / (Math.sqrt(3) * 200)) * (400 / 360), 6);
    const found = theFinding(plant, code);
    expect(lineAt(plant, found.place)).toContain('low_voltage_ride_through');
    expect(found.message).toContain(worst(plant, 'K1.dip_current').display);
    expect(found.message).toContain(worst(plant, 'K1.rated_current').display);
    expect(found.message).toContain(worst(plant, 'K1.dip_power_share').display);
  });

  it('adds the reactive current that the network asks for, up to the rating', () => {
    const at = (gain: number) => sound(grid(dip('60 %'), `reactive_current_gain = ${gain}`));
    const rated = worst(sound(), 'K1.rated_current').value;
    // Twice the missing 40 % is 80 % of the rating; six times would be more than all of it.
    expect(worst(at(2), 'K1.dip_reactive_current').value).toBeCloseTo(0.8 * rated, 9);
    expect(worst(at(6), 'K1.dip_reactive_current').value).toBeCloseTo(rated, 9);
    const active = (400e3 / (Math.sqrt(3) * 240)) * (400 / 360);
    expect(worst(at(2), 'K1.dip_current').value).toBeCloseTo(Math.hypot(active, 0.8 * rated), 6);
    expect(worst(at(2), 'K1.dip_power_share').value).toBeCloseTo((0.6 * rated) / active, 9);
    expect(worst(at(6), 'K1.dip_power_share').value).toBe(0);
  });

  it('holds no power at no voltage: nothing is known of the current', () => {
    expect(sound(grid(dip('0 %'))).analysis.values.worst('K1.dip_current')?.value).toBeUndefined();
  });
});

describe('a swell', () => {
  it('takes control from a converter that can’t make the voltage', () => {
    const plant = sound(grid(swell('150 %')), converter('opens_on_blocking = ac', 'opening_time = 1 s'));
    const found = theFinding(plant, code);
    expect(found.message).toContain('to stay in control');
    expect(found.value).toMatchObject({ name: 'K1.swell_reserve' });
    // No load at 400 V · 1.5 · 360/400 against 0.7071 of 224 · 3.20 V; the filter's own current moves it by little.
    const plain = (224 * 3.2) / Math.SQRT2 / (400 * 1.5 * 0.9) - 1;
    expect(Math.abs(worst(plant, 'K1.swell_reserve').value - plain)).toBeLessThan(0.005);
  });

  it('takes the DC side to the crest, which must stay below the trip', () => {
    const withTrip = (volts: number) => sound(grid(swell('128 %')), converter(`dc_trip = ${volts} V`));
    const { value } = worst(withTrip(900), 'K1.swell_peak');
    expect(worst(withTrip(900), 'K1.swell_dc_voltage').value).toBeCloseTo(Math.max(value, 224 * 3.34), 6);
    const high = sound(grid(swell('160 %')), upTo(800), converter('dc_trip = 800 V'));
    expect(findingsOf(high, code).some(({ message }) => message.includes('at which it trips'))).toBe(true);
  });

  it('warns that blocked diodes conduct meanwhile, with the time and the charge', () => {
    const plant = sound(grid(swell('118 %')));
    const found = theFinding(plant, 'uncontrolled_charging');
    expect(found).toMatchObject({ severity: 'warning', hazard: false });
    expect(found.message).toContain('in the highest swell');
    expect(found.message).toContain(worst(plant, 'K1.swell_charge').display);
    const time = worst(plant, 'K1.swell_time').value;
    // Level all the way to 100 ms, then down to the level at which the crest meets the resting battery.
    const level = 1.18 * (1 + worst(plant, 'K1.swell_margin').value);
    expect(time).toBeCloseTo(0.1 + (0.01 * (1.18 - level)) / 0.08, 9);
  });

  it('is cut short where every state has a device that opens sooner', () => {
    const plant = sound(grid(swell('118 %')), converter('opens_on_blocking = ac', 'opening_time = 40 ms'));
    expect(worst(plant, 'K1.swell_time').value).toBe(0.04);
  });

  it('of a second and longer is a temporary overvoltage: a hazard', () => {
    const plant = sound(grid(swell('118 %', '2 s', '2.1 s')));
    expect(theFinding(plant, 'uncontrolled_charging')).toMatchObject({ severity: 'error', hazard: true });
    const same = sound(grid('temporary_overvoltage = 118 %'));
    expect(worst(plant, 'K1.blocked_peak').value).toBeCloseTo(worst(same, 'K1.blocked_peak').value, 9);
  });
});

describe('the curves', () => {
  const frequency = 'low_frequency_ride_through = curve time { 0 s 47.5 Hz, 30 min 47.5 Hz, 31 min 49 Hz }';

  it('of the converter must cover those of the network', () => {
    const own = (ratio: string) => sound(grid(dip('30 %')), converter(dip(ratio)));
    expect(findingsOf(own('30 %'), code)).toEqual([]);
    const found = theFinding(own('40 %'), code);
    expect(found.severity).toBe('error');
    expect(found.message).toContain('falls short of the network’s by 10 %, 0 s after the beginning');
    const slower = 'low_frequency_ride_through = curve time { 0 s 48 Hz, 40 min 48 Hz }';
    expect(theFinding(sound(grid(frequency), converter(slower)), code).message).toContain('by 500 mHz');
    expect(findingsOf(sound(grid(frequency), converter(frequency)), code)).toEqual([]);
  });

  it('that make no sense are an error where they stand', () => {
    const late = sound(grid('low_voltage_ride_through = curve time { 1 s 50 %, 2 s 90 % }'));
    expect(theFinding(late, code).message).toContain('it must begin at 0 s');
    expect(lineAt(late, theFinding(late, code).place)).toContain('low_voltage_ride_through');
    const turning = sound(grid('high_voltage_ride_through = curve time { 0 s 110 %, 1 s 120 % }'));
    expect(theFinding(turning, code).message).toContain('a longer disturbance never goes farther');
  });

  it('leave unchecked what they do not say, and only once something is said', () => {
    const open = (...edits: readonly Edit[]): string => sound(...edits).analysis.notChecked.join('\n');
    expect(open()).not.toContain('ride-through');
    const half = open(grid(dip('30 %')));
    expect(half).toContain('`high_voltage_ride_through`');
    expect(half).toContain('whether K1 itself stays on (`low_voltage_ride_through`)');
    expect(open(grid(dip('30 %')), converter(dip('30 %')))).not.toContain('itself stays on');
  });
});

describe('what it says', () => {
  const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
  const high = swell('160 %');
  const plain = (of: ReturnType<typeof sound>) => findingsOf(of, code).map(({ message }) => message);

  it('of a swell: what is lacking, what there is, and where the crest trips', () => {
    const plant = sound(grid(high), upTo(800), converter('dc_trip = 800 V'));
    const reserve = show(-worst(plant, 'K1.swell_reserve').value, dimensions.ratio);
    // A modulation of 0.7071 of the 716.8 V at rest at the bottom.
    expect(plain(plant)).toEqual([
      `In the highest swell that must be ridden through K1 lacks ${reserve} of the voltage that it needs to stay in control: it can make 506.9 V from the battery at the bottom of its span, so current flows that it does not want, and it trips.`,
      `The highest swell that must be ridden through takes K1’s DC side to ${worst(plant, 'K1.swell_dc_voltage').display}, above the 800 V at which it trips.`,
    ]);
    const [control, direct] = findingsOf(plant, code);
    for (const { place, severity } of [control!, direct!]) {
      expect(lineAt(plant, place)).toBe(high);
      expect(severity).toBe('error');
    }
    expect(control!.limit).toEqual({ name: undefined, number: 0, display: '0 %' });
    expect(direct!.limit).toEqual({ name: undefined, number: 800, display: '800 V' });
    expect(direct!.related.map(({ place, message }) => [textAt(plant, place), message])).toEqual([
      ['dc_trip = 800 V', 'Up to here it runs.'],
    ]);
  });

  it('of a crest that trips without a stated trip: the end of its span, and nothing of what the battery lifts', () => {
    const plant = sound(grid(high), upTo(810));
    const direct = findingsOf(plant, code).at(-1)!;
    expect(direct.message).toMatch(/ above the 810 V at which it trips\.$/);
    expect(direct.related.map(({ place }) => textAt(plant, place))).toEqual(['dc_voltage = 550 V .. 810 V']);
    const battery = sound(grid(swell('115 %')), upTo(700));
    expect(plain(battery)).toEqual([]);
    expect(findingsOf(battery, 'dc_window')).toHaveLength(1);
  });

  it('of a case: what it asks for, where it does', () => {
    const stormy = sound(cases(`case stormy { MAIN.${high} }`));
    expect(told(stormy, code)).toMatchObject({
      message: expect.stringMatching(/ to stay in control in case stormy: /),
      at: `MAIN.${high}`,
    });
    const trip = sound(
      cases(`case stormy { MAIN.${swell('150 %')}, K1.dc_voltage = 550 V .. 765 V, K1.dc_trip = 765 V }`),
    );
    const direct = findingsOf(trip, code).at(-1)!;
    expect(direct.message).toMatch(/ above the 765 V at which it trips in case stormy\.$/);
    expect(textAt(trip, direct.place)).toBe(`MAIN.${swell('150 %')}`);
    const late = 'low_voltage_ride_through = curve time { 1 s 30 %, 2 s 90 % }';
    expect(told(sound(cases(`case late { MAIN.${late} }`)), code)).toEqual({
      message:
        '`low_voltage_ride_through` of MAIN is no ride-through curve in case late: it must begin at 0 s, with the level that may stand at once.',
      at: `MAIN.${late}`,
      related: [],
      limit: undefined,
      fixes: [],
    });
    const held = sound(grid(dip('50 %')), cases('case held { MAIN.power_in_dip = held }'));
    expect(theFinding(held, code).point?.case).toBe('held');
  });

  it('of a converter that falls short: how far, when, and beside what', () => {
    const plant = sound(grid(dip('30 %')), converter(dip('40 %')));
    expect(told(plant, code)).toEqual({
      message:
        'K1 does not stay on as MAIN asks for: its `low_voltage_ride_through` falls short of the network’s by 10 %, 0 s after the beginning.',
      at: dip('40 %'),
      related: [[dip('30 %'), 'This is what the network asks for.']],
      limit: undefined,
      fixes: [],
    });
    const both = sound(grid(dip('30 %')), converter(dip('30 %')), cases(`case weak { K1.${dip('45 %')} }`));
    expect(theFinding(both, code).message).toMatch(/^K1 does not stay on as MAIN asks for in case weak: .* by 15 %, /);
  });

  it('of a curve: every way in which it makes no sense, each once', () => {
    const why = (points: string) => plain(sound(grid(`low_voltage_ride_through = curve time { ${points} }`))).join();
    expect(why('0 s 90 %, 1 s 80 %, 2 s 70 %')).toMatch(/: a longer disturbance never goes farther [^;]* would\.$/);
    expect(why('1 s 90 %, 2 s 80 %')).toMatch(/: it must begin at 0 s, .*; a longer disturbance .* would\.$/);
    const own = sound(converter('low_voltage_ride_through = curve time { 1 s 50 %, 2 s 90 % }'));
    expect(theFinding(own, code)).toMatchObject({ subject: 'K1', severity: 'error' });
  });

  it('of the curve of a network once, whatever converters stand on it', () => {
    const late = grid('low_voltage_ride_through = curve time { 1 s 50 %, 2 s 90 % }');
    const plant = bad(circulatingCurrent, late);
    expect(findingsOf(plant, code).map(({ subject }) => subject)).toEqual(['MAIN']);
  });

  it('nothing of a converter without a network', () => {
    const island: Edit = ['connect MAIN -> T1 -> F1 -> K1', 'connect T1 -> F1 -> K1'];
    expect(plain(sound(island, converter('low_voltage_ride_through = curve time { 1 s 50 %, 2 s 90 % }')))).toEqual([]);
  });

  it('is left unchecked: word for word', () => {
    const open = (...edits: readonly Edit[]) =>
      sound(...edits).analysis.notChecked.filter(words => words.startsWith('ride-through'));
    const all = ['low_voltage', 'high_voltage', 'low_frequency', 'high_frequency'].map(
      name => `\`${name}_ride_through\``,
    );
    expect(open(grid(dip('30 %')))).toEqual([
      `ride-through: ${all[1]}, ${all[2]} and ${all[3]}, which no network states; whether K1 itself stays on (${all[0]})`,
    ]);
    const riding = 'high_voltage_ride_through = curve time { 0 s 115 %, 1 s 112 % }';
    expect(open(grid(dip('30 %'), riding))).toEqual([
      `ride-through: ${all[2]} and ${all[3]}, which no network states; whether K1 itself stays on (${all[0]} and ${all[1]})`,
    ]);
    expect(open(converter(dip('30 %')))).toEqual([
      `ride-through: ${all[0]}, ${all[1]}, ${all[2]} and ${all[3]}, which no network states`,
    ]);
    const frequencies = [
      'low_frequency_ride_through = curve time { 0 s 47 Hz, 1 s 49 Hz }',
      'high_frequency_ride_through = curve time { 0 s 52 Hz, 1 s 51 Hz }',
    ];
    const curves = [dip('30 %'), swell('110 %'), ...frequencies];
    expect(open(grid(...curves), converter(...curves))).toEqual([]);
  });
});
