// Diodes against the resting battery: hazard, narrow margin, passing sag, and remedies.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { uncontrolledCharging as check } from '../../../engine/checks/uncontrolled-charging.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound, throughParts, without } from '../../kit/checks.ts';
import {
  analysed,
  complaintCodes,
  edited,
  expectFindings,
  findingsOf,
  lineAt,
  textAt,
  theFinding,
  worst,
} from '../../kit/plants.ts';

const code = 'uncontrolled_charging';
const winding = (volts: number) => ['secondary_voltage = 360 V', `secondary_voltage = ${volts} V`] as const;

const opening = (...facts: readonly string[]) =>
  ['ac_current = 850 A', ['ac_current = 850 A', ...facts].join('\n  ')] as const;

showsItself(check, { severity: 'error' });

describe('the hazard', () => {
  it('names the crest, the resting voltage, the current and where charging stops', () => {
    const plant = bad(check);
    const { message, hazard, limit, value } = theFinding(plant, code);
    expect(hazard).toBe(true);
    const [peak, rest] = ['K1.blocked_peak', 'B1.floor_voltage'].map(name => worst(plant, name).display);
    const current = show(worst(plant, 'K1.diode_current').value, dimensions.current, { digits: 3 });
    const stop = show(worst(plant, 'K1.diode_stop_soc').value, dimensions.ratio, { digits: 3 });
    expect(message).toBe(
      `With the gates blocked, K1’s diodes charge B1 and nothing in the converter can stop them: the crest of ${peak} at its terminals stands above the ${rest} at which B1 rests at 0 % state of charge; about ${current} (mean) flows, until ${stop} state of charge. Cells charged without control, or far below their limits, can overheat and burn.`,
    );
    expect(value).toMatchObject({ name: 'K1.diode_margin' });
    expect(limit).toMatchObject({ number: 0, display: '0 %' });
  });

  it('sits on the winding voltage and shows what else contributes', () => {
    const plant = bad(check);
    const { place, related } = theFinding(plant, code);
    expect(lineAt(plant, place)).toBe('secondary_voltage = 380 V');
    expect(related.map(({ message }) => message)).toEqual([
      'The network’s highest voltage counts.',
      'Down to here the battery may be connected.',
      'The battery’s voltage at rest.',
    ]);
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual([
      'voltage',
      'lowest_connected',
      'open_circuit_voltage',
    ]);
  });

  it('shows the span of the battery where nobody says when it disconnects', () => {
    const plant = bad(check, ['  lowest_connected = 0 %\n', ''], ['soc = 10 % .. 90 %', 'soc = 0 % .. 90 %']);
    const { related } = theFinding(plant, code);
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual([
      'voltage',
      'soc',
      'open_circuit_voltage',
    ]);
  });

  it('sits on the network where there is no transformer', () => {
    const plant = sound(
      ['connect MAIN -> T1 -> F1', 'connect MAIN -> F1'],
      ['require T1.loading <= 95 %\n', ''],
      ['lowest_connected = 0 %', 'lowest_connected = 0.5 %'],
    );
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('voltage = 400 V ± 10 %');
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual(['Have the contactors open at 5 %']);
    expectFixesToHold(plant, code);
  });

  it('sits on the plant’s `is`, and relates the part, where a part states the winding', () => {
    const plant = analysed(throughParts(edited(soundExample, ...check.bad)));
    const { place, related, fixes } = theFinding(plant, code);
    expect(lineAt(plant, place)).toBe('transformer T1 is T1Part');
    expect(textAt(plant, place)).toMatch(/^is T1Part|^T1Part/);
    expect(related.some(({ place }) => place.path === 'parts.plant')).toBe(true);
    // Neither the winding nor the contactors are the plant's to edit: no fix that would change a part for everybody.
    expect(fixes.flatMap(({ edits }) => edits).every(({ place }) => place.path === 'plant.plant')).toBe(true);
  });
});

describe('between hazard and peace', () => {
  it('is an error below the crest, a warning within the margin, and silent beyond it', () => {
    const { value } = worst(sound(), 'T1.winding_max_diode');
    expect(theFinding(sound(winding(value * 1.0005)), code)).toMatchObject({ severity: 'error', hazard: true });
    expect(theFinding(sound(winding(value * 0.9995)), code)).toMatchObject({ severity: 'warning', hazard: false });
    expect(theFinding(sound(winding((value / 1.03) * 1.0005)), code).severity).toBe('warning');
    expect(findingsOf(sound(winding((value / 1.03) * 0.9995)), code)).toEqual([]);
  });

  it('takes the margin from the house rules', () => {
    const rule = (share: string) =>
      ['transformer_spare = 5 %', `transformer_spare = 5 %, diode_margin = ${share}`] as const;
    expectLimit(code, [rule('3.2 %')], [rule('3.3 %')], 'warning');
    const plant = sound(rule('8 %'));
    const { message, limit } = theFinding(plant, code);
    const [margin, peak, rest] = ['K1.diode_margin', 'K1.blocked_peak', 'B1.floor_voltage'].map(
      name => worst(plant, name).display,
    );
    expect(message).toBe(
      `K1’s blocked diodes are held back with only ${margin} to spare, less than the customary 8 %: crest ${peak}, B1 at rest ${rest} at 0 % state of charge.`,
    );
    expect(limit).toMatchObject({ name: 'HouseRules.diode_margin', display: '8 %' });
  });

  it('warns of a sag below the crest just after blocking, naming the duty', () => {
    const plant = sound(
      [
        'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
        'resistance = curve temperature { 0 °C 0.9 Ω, 45 °C 0.9 Ω }',
      ],
      ['2.80 V .. 3.60 V', '2.00 V .. 4.00 V'],
    );
    const found = theFinding(plant, code);
    expect(found).toMatchObject({ severity: 'warning', hazard: false });
    expect(found.point).toMatchObject({ duty: 'start_peak', soc: 0.1 });
    const [sagged, peak] = ['B1.voltage_min', 'K1.blocked_peak'].map(name => worst(plant, name).display);
    expect(found.message).toMatch(
      new RegExp(
        `^Just after blocking at full discharge K1’s diodes can conduct for a moment: the crest of ${peak} stands above the ${sagged} to which B1 has sagged under load during start_peak, .*; at rest it recovers above it\\.$`,
      ),
    );
    expect(found.limit).toMatchObject({ name: 'K1.blocked_peak', display: peak });
    expect(lineAt(plant, found.place)).toBe('secondary_voltage = 360 V');
  });

  it('does so exactly where some duty brings the battery below the crest, at whatever span', () => {
    const start = 'discharge = 400 kW for 45 min';
    const spans = [
      [start, start],
      [start, `${start}, soc = 4 % .. 90 %`],
      ['charge = 250 kW for 90 s every 15 min', 'charge = 250 kW for 90 s every 15 min, soc = 0 % .. 90 %'],
    ] as const;
    const seen = new Set<boolean>();
    for (const span of spans)
      for (const ohms of [0.14, 0.3, 0.4, 0.5, 0.6, 0.7, 0.9]) {
        const plant = sound(
          span,
          ['2.80 V .. 3.60 V', '1.50 V .. 4.50 V'],
          ['lowest_connected = 0 %', ''],
          [
            'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
            `resistance = curve temperature { 0 °C ${ohms} Ω, 45 °C ${ohms} Ω }`,
          ],
        );
        const sags = worst(plant, 'B1.voltage_min').value < worst(plant, 'K1.blocked_peak').value;
        seen.add(sags);
        const said = findingsOf(plant, code).filter(({ message }) => message.startsWith('Just after blocking'));
        expect(said.length, `${span[1]}, ${ohms} Ω`).toBe(sags ? 1 : 0);
      }
    expect(seen.size).toBe(2);
  });

  it('warns of a swell that must be ridden through with the gates blocked', () => {
    const swell = [
      'x_over_r = 5',
      'x_over_r = 5\n  high_voltage_ride_through = curve time { 0 s 118 %, 100 ms 118 %, 110 ms 110 % }',
    ] as const;
    const plant = sound(swell);
    const [time, peak, rest, charge] = ['K1.swell_time', 'K1.swell_peak', 'B1.floor_voltage', 'K1.swell_charge'].map(
      name => worst(plant, name).display,
    );
    const found = theFinding(plant, code);
    expect(found.message).toBe(
      `If the gates block in the highest swell that must be ridden through, K1’s diodes charge B1 for up to ${time}: the crest of ${peak} stands above the ${rest} at 0 % state of charge; ${charge} flows at most.`,
    );
    expect(found).toMatchObject({ severity: 'warning', hazard: false, limit: { number: 0 } });
    expect(found.related[0]!.message).toBe('The swell.');
    expect(textAt(plant, found.related[0]!.place)).toContain('high_voltage_ride_through');
    expect(findingsOf(sound([swell[0], swell[1].replaceAll('118 %', '111 %')]), code)).toEqual([]);
  });

  it('is a warning where a device opens the AC side after blocking', () => {
    const plant = bad(check, ['ac_current = 850 A', 'ac_current = 850 A\n  opening_time = 80 ms']);
    expect(complaintCodes(plant)).toEqual([`warning ${code}`]);
    expect(theFinding(plant, code).message).toContain('80 ms');
  });

  it('says how much charge flows until the device opens', () => {
    const plant = bad(check, opening('opening_time = 80 ms'));
    const { message } = theFinding(plant, code);
    // Mean current times 80 ms, in A·s.
    const expected = worst(plant, 'K1.diode_current').value * 0.08;
    expect(worst(plant, 'K1.diode_charge_trip').value).toBeCloseTo(expected, 9);
    const [peak, rest, charge] = ['K1.blocked_peak', 'B1.floor_voltage', 'K1.diode_charge_trip'].map(
      name => worst(plant, name).display,
    );
    const current = show(worst(plant, 'K1.diode_current').value, dimensions.current, { digits: 3 });
    expect(message).toBe(
      `With the gates blocked, K1’s diodes charge B1 until the AC device opens after 80 ms: the crest of ${peak} stands above the ${rest} at 0 % state of charge; about ${current} (mean) flows meanwhile, ${charge} at most.`,
    );
  });

  it('names the case in which the network stands highest', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case island { MAIN.voltage = 400 V ± 15 % }']);
    const found = theFinding(plant, code);
    expect(found.point?.case).toBe('island');
    expect(found.message).toContain('in case island');
  });
});

describe('states with blocked gates', () => {
  const said = (...facts: readonly string[]) => theFinding(bad(check, opening(...facts)), code);

  it('are a hazard as long as nothing opens in one of them, which the message names', () => {
    const found = said(
      'opens_on_blocking = none',
      'opens_on_trip = ac',
      'opens_in_standby = ac',
      'opening_time = 80 ms',
    );
    expect(found).toMatchObject({ severity: 'error', hazard: true });
    expect(found.message).toContain('With the gates blocked without a trip, K1’s');
    expect(found.related.map(({ message }) => message).slice(3)).toEqual([
      'What opens in this state.',
      'What opens in this state.',
      'What opens in this state.',
    ]);
    expect(found.message).toContain(
      'in the other states until the AC device opens after 80 ms on a trip and in standby',
    );
    expect(said('opens_on_blocking = ac', 'opens_in_standby = none', 'opening_time = 80 ms').message).toContain(
      'With the gates blocked in standby, K1’s',
    );
    expect(said('opens_on_blocking = none', 'opening_time = 80 ms').message).toContain('With the gates blocked, K1’s');
  });

  it('are passing where each has a device that opens', () => {
    const found = said(
      'opens_on_blocking = dc',
      'opens_on_trip = both',
      'dc_opening_time = 30 ms',
      'opening_time = 20 ms',
    );
    expect(found).toMatchObject({ severity: 'warning', hazard: false });
    expect(found.message).toContain(
      'until the DC contactor opens after 30 ms without a trip and in standby, the first of AC device and DC contactor opens after 20 ms on a trip:',
    );
  });

  it('on a trip and in standby open at least what opens on blocking', () => {
    const plant = bad(check, opening('opens_on_blocking = ac', 'opening_time = 60 ms'));
    for (const state of ['blocking', 'trip', 'standby'])
      expect(worst(plant, `K1.diode_time_${state}`).value).toBe(0.06);
  });

  it('bound the charge by where the diodes stop while it is not said how soon the device opens', () => {
    const found = said('opens_on_blocking = dc');
    expect(found.severity).toBe('warning');
    expect(found.message).toContain('until the DC contactor opens, how soon is not said (`dc_opening_time`)');
    expect(found.message).toContain(`${worst(bad(check), 'K1.diode_charge_trip').display} at most`);
  });

  it('last without end where nothing opens: charge flows until the battery has risen', () => {
    const plant = bad(check);
    expect(plant.analysis.values.worst('K1.diode_time_standby')?.value).toBeUndefined();
    // 4 strings of 280 Ah, from empty to where the diodes stop.
    const stop = worst(plant, 'K1.diode_stop_soc').value;
    expect(worst(plant, 'K1.diode_charge_standby').value).toBeCloseTo(stop * 4 * 280 * 3600, 3);
    for (const what of ['time', 'charge']) expect(worst(sound(), `K1.diode_${what}_trip`).value).toBe(0);
  });

  it('clear a narrow margin where something opens in each of them', () => {
    const narrow = ['secondary_voltage = 360 V', 'secondary_voltage = 369 V'] as const;
    expect(theFinding(sound(narrow), code).severity).toBe('warning');
    expect(findingsOf(sound(narrow, opening('opens_on_blocking = ac', 'opening_time = 60 ms')), code)).toEqual([]);
    const one = theFinding(sound(narrow, opening('opens_on_blocking = ac', 'opens_in_standby = none')), code);
    expect(one.message).toContain('less than the customary 3 % in standby:');
  });

  it('are said not to be told apart where nothing is stated', () => {
    const open = (...facts: readonly string[]): string => sound(opening(...facts)).analysis.notChecked.join('\n');
    expect(open()).toContain('what opens when K1 blocks, trips or stands by: nothing is stated');
    const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
    const second = [...soundExample.matchAll(/^(filter|converter|battery) ([A-Z])1 (\{\n[\s\S]*?\n\})$/gm)];
    const two = second.map(([, kind, letter, facts]) => `${kind} ${letter}2 ${facts}\n`).join('\n');
    const beside = `${chain.replace('T1', 'T1 -> N')}\nconnect N -> F2 -> K2 -> B2`;
    expect(sound([chain, `bus N { }\n${two}\n${beside}`]).analysis.notChecked.join('\n')).toContain(
      'what opens when K1 and K2 block, trip or stand by:',
    );
    expect(open('opening_time = 60 ms')).not.toContain('what opens when');
    expect(open('opens_on_trip = ac')).not.toContain('what opens when');
  });

  it('that last count for more than a narrower margin elsewhere, and of two that last the nearer to conduction', () => {
    const cases = (...texts: readonly string[]) => ['require T1.loading <= 95 %', texts.join('\n')] as const;
    const plant = bad(
      check,
      opening('opens_on_blocking = ac', 'opening_time = 60 ms'),
      cases(
        'case high { MAIN.voltage = 400 V ± 12 % }',
        'case welded { K1.opens_on_blocking = none }',
        'case both is high, welded',
      ),
    );
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', point: { case: 'both' } });
    const opened = bad(
      check,
      opening('opens_on_blocking = ac', 'opening_time = 60 ms'),
      cases(
        'case high { MAIN.voltage = 400 V ± 12 % }',
        'case low { MAIN.voltage = 400 V ± 5 %, K1.opens_on_blocking = none }',
      ),
    );
    // Narrow in the one, passing in the other: what conducts is graver.
    expect(theFinding(opened, code)).toMatchObject({ severity: 'warning', point: { case: 'high' } });
    expect(theFinding(opened, code).message).toContain('until the AC device opens after 60 ms');
  });

  it('of the same gravity are told where the diodes are nearest to conduction', () => {
    const plant = bad(check, [
      'require T1.loading <= 95 %',
      'case high { MAIN.voltage = 400 V ± 12 % }\ncase mild { MAIN.voltage = 400 V ± 9.5 % }',
    ]);
    expect(theFinding(plant, code).point?.case).toBe('high');
  });

  it('with different times tell the most charge of all of them', () => {
    const found = said(
      'opens_on_blocking = ac',
      'opens_on_trip = dc',
      'opening_time = 90 ms',
      'dc_opening_time = 20 ms',
    );
    const plant = bad(check, opening('opens_on_blocking = ac', 'opening_time = 90 ms'));
    expect(found.message).toContain(`${worst(plant, 'K1.diode_charge_blocking').display} at most`);
  });

  it('are judged case by case', () => {
    const plant = bad(check, opening('opens_on_blocking = ac', 'opening_time = 60 ms'), [
      'require T1.loading <= 95 %',
      'case welded { K1.opens_on_blocking = none }',
    ]);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', point: { case: 'welded' } });
  });
});

it('tells that no winding voltage fits, by how much, and what would open the window', () => {
  const plant = bad(check, ['ac_current = 850 A', 'ac_current = 700 A']);
  const [least, most] = [worst(plant, 'T1.winding_min'), worst(plant, 'T1.winding_max')];
  expect(least.value).toBeGreaterThan(most.value);
  const share = show(least.value / most.value - 1, dimensions.ratio);
  expect(theFinding(plant, code).message).toMatch(
    new RegExp(
      ` burn\\. No secondary voltage of T1 fits: it would have to be at least ${least.display} and at most ${most.display}\\. A chopper between K1 and its battery opens the window if it holds the DC link about ${share} or more above the battery\\.$`,
    ),
  );
});

it('is told of a plant without a duty too', () => {
  expect(theFinding(bad(check, ...without('start_peak', 'braking')), code).severity).toBe('error');
  expect(findingsOf(sound(...without('start_peak', 'braking')), code)).toEqual([]);
});

it('reads in place', () => {
  expectFindings(`
plant Hut {
  altitude = 900 m
  ambient = 5 °C .. 40 °C
}
grid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }
            ^^^^^^^^^^^^^^^^^^^^^^ error[uncontrolled_charging]: With the gates blocked, K1’s diodes charge B1
            ^^^^^^^^^^^^^^^^^^^^^^ error[control_margin]: K1 can’t even make
            ^^^^^^^^^^^^^^^^^^^^^^ error[voltage_reserve]: K1 can’t reach
use "parts.plant"
converter K1 { ac_current = 200 A, dc_voltage = 450 V .. 850 V, switching_frequency = 4 kHz }
battery B1 is Pack
connect MAIN -> K1 -> B1
duty little { discharge = 10 kW }
#### parts.plant
part battery Pack {
  cells_in_series = 180
  capacity = 280 Ah
  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 100 % 3.40 V }
  resistance = 0.1 Ω
  soc = 10 % .. 90 %
}
`);
});
