// The author’s own demands: judged at every point, with the least margin, or said to be unjudged.
import { describe, expect, it } from 'vitest';
import { requirementCheck as check } from '../../../engine/checks/requirement.ts';
import { dimensions } from '../../../engine/units/dimension.ts';
import { show } from '../../../engine/units/show.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, theFinding, told, valueAt, worst } from '../../kit/plants.ts';

const { code } = check;
const demand = (...lines: string[]) => ['require T1.loading <= 95 %', lines.join('\n')] as const;
const worn = 'case worn { B1.state_of_health = 80 %, B1.resistance = 1.5 * B1.resistance }';

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'requirement')).toEqual({
    message:
      '`T1.loading <= 60 %` does not hold: 93.98 % is above 60 % during start_peak, at the lowest network voltage, delivering reactive power.',
    at: 'require T1.loading <= 60 %',
    related: [],
    limit: '60 %',
    fixes: [],
  });
});

describe('a requirement', () => {
  it('is judged at the worst point, which it names, in the author’s own line', () => {
    const plant = bad(check);
    const { message, place, point, subject } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'T1.loading').display);
    expect(message).toContain('60 %');
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'low', direction: 'delivering' });
    expect(subject).toBe('T1');
    expect(lineAt(plant, place)).toBe('require T1.loading <= 60 %');
  });

  it('holds on equality, unless it is strict', () => {
    expect(findingsOf(sound(demand('require MAIN.voltage_high <= 440 V')), code)).toEqual([]);
    expect(findingsOf(sound(demand('require MAIN.voltage_high >= 440 V')), code)).toEqual([]);
    expect(theFinding(sound(demand('require MAIN.voltage_high < 440 V')), code).message).toContain(
      '440 V is not below 440 V',
    );
    expect(theFinding(sound(demand('require MAIN.voltage_high > 440 V')), code).message).toContain(
      '440 V is not above 440 V',
    );
    expect(findingsOf(sound(demand('require MAIN.voltage_high == 440 V')), code)).toEqual([]);
    expect(theFinding(sound(demand('require MAIN.voltage_high != 440 V')), code).message).toContain(
      '440 V is equal to 440 V',
    );
    expect(theFinding(sound(demand('require MAIN.voltage_high == 441 V')), code).message).toContain(
      '440 V is not equal to 441 V',
    );
  });

  it('that is strict holds as soon as there is a difference', () => {
    for (const held of ['MAIN.voltage_high < 440.1 V', 'MAIN.voltage_high > 439.9 V', '2 * T1.loading < 200 %'])
      expect(findingsOf(sound(demand(`require ${held}`)), code)).toEqual([]);
    const { value } = theFinding(sound(demand('require T1.loading < 60 %')), code);
    expect(value?.number).toBe(worst(sound(), 'T1.loading').value);
  });

  it('overlooks what rounding leaves', () => {
    const held = ['MAIN.voltage_high <= 439.9999998 V', 'MAIN.voltage_high >= 440.0000002 V'];
    for (const condition of [...held, 'MAIN.voltage_high == 440.0000002 V'])
      expect(findingsOf(sound(demand(`require ${condition}`)), code)).toEqual([]);
    expect(findingsOf(sound(demand('require MAIN.voltage_high <= 439.999 V')), code)).toHaveLength(1);
  });

  it('may stand with the number first, or be of numbers alone', () => {
    expect(theFinding(sound(demand('require 0.6 >= T1.loading')), code).message).toContain('60 % is below 93.98 %');
    expect(theFinding(sound(demand('require 1 m >= 2 m')), code).message).toContain('1 m is below 2 m');
  });

  it('shows a bare number like what it is compared with', () => {
    expect(theFinding(sound(demand('require T1.ratio == 1')), code).message).toContain('1.111 is not equal to 1.');
  });

  it('may be judged during one duty only', () => {
    const plant = sound(demand('require K1.loading during braking <= 20 %'));
    const loading = Math.max(
      ...(['low', 'nominal', 'high'] as const).map(voltage =>
        valueAt(plant, 'K1.loading', { duty: 'braking', voltage, direction: 'delivering', case: undefined }),
      ),
    );
    expect(theFinding(plant, code).value?.number).toBe(loading);
    expect(theFinding(plant, code).message).toContain('during braking');
    expect(findingsOf(sound(demand('require K1.loading during braking <= 60 %')), code)).toEqual([]);
    expect(theFinding(sound(demand('require K1.loading <= 60 %')), code).point?.duty).toBe('start_peak');
  });

  it('may have a name and a reason', () => {
    const plant = sound(
      demand('require second_drive: K1.loading during braking <= 20 % because "leave room for a second drive"'),
    );
    const { message } = theFinding(plant, code);
    expect(message).toMatch(/^second_drive \(`K1\.loading.*<= 20 %`\) does not hold/);
    expect(message).toMatch(/leave room for a second drive\.$/);
  });

  it('covers every case', () => {
    const plant = sound(demand('require B1.discharge_time >= 80 min', worn));
    expect(theFinding(plant, code).point?.case).toBe('worn');
    expect(theFinding(plant, code).message).toMatch(/is below 80 min.* in case worn/);
  });

  it('that is missed equally in all cases is told of the first', () => {
    const missed = theFinding(sound(demand('require 2 * T1.ratio <= 1', worn)), code);
    expect(missed.message).toContain('222.2 % is above 100 %.');
    expect(missed.point?.case).toBeUndefined();
  });

  it('is judged at both ends of a stated spread', () => {
    expect(theFinding(sound(demand('require MAIN.voltage >= 370 V')), code).message).toContain('360 V is below 370 V');
    expect(theFinding(sound(demand('require MAIN.voltage <= 430 V')), code).message).toContain('440 V is above 430 V');
    expect(findingsOf(sound(demand('require MAIN.voltage - MAIN.voltage == 0 V')), code)).toEqual([]);
  });

  it('may compare results with each other, and names the point of the one that varies', () => {
    const { message, point } = theFinding(sound(demand('require T1.winding_max >= K1.terminal_voltage')), code);
    expect(message).toContain(
      `${worst(sound(), 'T1.winding_max').display} is below ${worst(sound(), 'K1.terminal_voltage').display}`,
    );
    expect(point).toMatchObject({ duty: 'start_peak', voltage: 'high' });
  });

  it('may calculate', () => {
    expect(findingsOf(sound(demand('require max(T1.loading, K1.loading) <= 1.05 * 95 %')), code)).toEqual([]);
    expect(
      theFinding(sound(demand('require max(T1.loading, K1.loading) <= 0.9 * 95 %')), code).limit?.number,
    ).toBeCloseTo(0.855, 12);
  });

  it('that can’t be computed is a note, never silence', () => {
    const line = / {2}charge_current = .*\n/.exec(sound().files.get('plant.plant')!)![0];
    const plant = sound(demand('require B1.recharge_time <= 3 h'), [line, '']);
    expect(complaintCodes(plant)).toEqual([]);
    const { severity, message } = theFinding(plant, code);
    expect(severity).toBe('note');
    expect(message).toContain('can’t be judged');
  });

  it('that reads what does not exist is a mistake in the text, and nothing more', () => {
    expect(complaintCodes(sound(demand('require T1.lodaing <= 95 %')))).toEqual(['error unknown_property']);
    expect(complaintCodes(sound(demand('require T9.loading <= 95 %')))).toEqual(['error unknown_name']);
    expect(complaintCodes(sound(demand('require T1.loading <= 95 V')))).toEqual(['error wrong_dimension']);
    expect(complaintCodes(sound(demand('require T1.loading during brakin <= 95 %')))).toEqual(['error unknown_name']);
  });
});

describe('what it says', () => {
  it('of facts alone: both numbers and the reason, at no point of operation, of the plant', () => {
    const plant = sound(demand('require MAIN.voltage >= 370 V because "the lamps want it"'));
    expect(told(plant, code)).toEqual({
      message: '`MAIN.voltage >= 370 V` does not hold: 360 V is below 370 V; it is wanted because: the lamps want it.',
      at: 'require MAIN.voltage >= 370 V because "the lamps want it"',
      related: [],
      limit: '370 V',
      fixes: [],
    });
    expect(theFinding(plant, code)).toMatchObject({
      severity: 'error',
      subject: 'MountainStation',
      value: undefined,
      point: undefined,
    });
  });

  it('of a result with a name: the name first', () => {
    const plant = sound(demand('require second_drive: K1.loading during braking <= 20 %'));
    const { value } = theFinding(plant, code);
    expect(told(plant, code).message).toMatch(
      new RegExp(
        `^second_drive \\(\`K1\\.loading during braking <= 20 %\`\\) does not hold: ${value!.display} is above 20 % during braking, `,
      ),
    );
  });

  it('of what is not known: that, on the line', () => {
    const line = / {2}charge_current = .*\n/.exec(sound().files.get('plant.plant')!)![0];
    for (const read of ['B1.recharge_time', '2 * B1.recharge_time']) {
      const plant = sound(demand(`require ${read} <= 3 h`), [line, '']);
      expect(told(plant, code)).toEqual({
        message: `\`${read} <= 3 h\` can’t be judged: something that it reads is not known.`,
        at: `require ${read} <= 3 h`,
        related: [],
        limit: undefined,
        fixes: [],
      });
      expect(theFinding(plant, code).subject).toBe('B1');
    }
  });
});

describe('a condition that calculates', () => {
  const doubled = (condition: string, ...edits: readonly Edit[]) =>
    theFinding(sound(demand(`require ${condition}`), ...edits), code);
  const loading = worst(sound(), 'T1.loading');

  it('is judged at the worst of all points, and names it like the result alone', () => {
    const found = doubled('2 * T1.loading <= 120 %');
    expect(found.value?.number).toBe(loading.value);
    expect(found.point).toEqual(loading.point);
    expect(found.limit).toEqual({ name: undefined, number: 1.2, display: '120 %' });
    expect(found.message).toContain(
      `${show(2 * loading.value, dimensions.ratio)} is above 120 % during start_peak, at the`,
    );
    expect(findingsOf(sound(demand(`require 2 * T1.loading <= ${2 * loading.value}`)), code)).toEqual([]);
  });

  it('is judged the other way round where it wants more', () => {
    const rows = sound()
      .analysis.values.all('T1.loading')
      .flatMap(({ value }) => value ?? []);
    expect(doubled('2 * T1.loading >= 500 %').value?.number).toBe(Math.min(...rows));
    expect(doubled('2 * T1.loading > 500 %').value?.number).toBe(Math.min(...rows));
    expect(doubled('2 * T1.loading < 10 %').value?.number).toBe(Math.max(...rows));
  });

  it('is judged during one duty, and in all cases', () => {
    const braking = doubled('2 * K1.loading during braking <= 40 %');
    expect(braking.point?.duty).toBe('braking');
    const plant = sound(demand('require 2 * B1.discharge_time >= 160 min', worn));
    expect(theFinding(plant, code).point?.case).toBe('worn');
    expect(findingsOf(sound(demand('require 2 * B1.discharge_time >= 160 min')), code)).toEqual([]);
  });

  it('of several results names the point of the one that varies with most, whichever stands first', () => {
    const [one, other] = ['K1.terminal_voltage <= T1.winding_max', 'T1.winding_max >= K1.terminal_voltage'].map(
      condition => theFinding(sound(demand(`require ${condition}`)), code),
    );
    expect(one!.point).toEqual(other!.point);
    expect(one!.point?.duty).toBe('start_peak');
  });

  it('with equal or unequal counts the point that is farthest off, or the one that meets it', () => {
    expect(doubled('2 * T1.loading == 0 %').value?.number).toBe(loading.value);
    expect(doubled('T1.loading == 0 %').value?.number).toBe(loading.value);
    expect(doubled(`T1.loading != ${loading.value}`).value?.number).toBe(loading.value);
    expect(findingsOf(sound(demand('require T1.loading != 7')), code)).toEqual([]);
  });

  it('of two spreads counts every pair of their ends', () => {
    expect(doubled('MAIN.voltage + T1.impedance * 0 V <= 430 V').message).toContain('440 V is above 430 V');
    expect(doubled('MAIN.voltage * T1.impedance >= 19.5 V').message).toContain('19.44 V is below 19.5 V');
    expect(doubled('MAIN.voltage * T1.impedance <= 29 V').message).toContain('29.04 V is above 29 V');
    expect(findingsOf(sound(demand('require MAIN.voltage * T1.impedance >= 19.4 V')), code)).toEqual([]);
  });
});
