// The largest power at one state of charge: each limit by its closed form, and an axis cut where a name changes.
import { describe, expect, test } from 'vitest';
import { type DcSource, limitedPower, type Passage, stretchesOf } from '../../../engine/physics/power-limits.ts';

const far = Number.POSITIVE_INFINITY;
/** 800 V behind 40 mΩ and 10 mΩ of cable, with limits that are far away. */
const source: DcSource = {
  emf: 800,
  resistance: 0.04,
  wires: 0.01,
  currentLimit: far,
  voltageLimit: 0,
  converterCurrent: far,
  lowest: 0,
  highest: far,
};
const open: Passage = { power: [0, 1e9], needed: [0, 0], end: 'network_path' };
const charging: DcSource = { ...source, voltageLimit: far };

describe('discharging', () => {
  const found = (change: Partial<DcSource>, passage = open) =>
    limitedPower('discharge', { ...source, ...change }, passage);

  test('to the current of the battery', () => {
    expect(found({ currentLimit: 500 })).toEqual({
      power: 500 * 780,
      current: 500,
      voltage: 780,
      limit: 'battery_current',
    });
  });

  test('to the least voltage of the battery, at its own terminals: (E − U)/R', () => {
    const { power, current, voltage, limit } = found({ voltageLimit: 760 });
    expect([current, voltage, limit]).toEqual([expect.closeTo(1000, 9), expect.closeTo(760, 9), 'battery_voltage']);
    expect(power).toBeCloseTo(760e3, 6);
  });

  test('to where more current is less power behind all of the resistance: E/(2·R)', () => {
    expect(found({})).toMatchObject({ current: 8000, limit: 'power_collapse', voltage: 480 });
  });

  test('to the current of the converter on its DC side', () => {
    expect(found({ converterCurrent: 700 })).toMatchObject({ current: 700, limit: 'converter_dc_current' });
  });

  test('to the lowest voltage of the converter, behind the cables: (E − U)/(R + R_w)', () => {
    const { current, voltage, limit } = found({ lowest: 750 });
    expect([current, voltage, limit]).toEqual([expect.closeTo(1000, 9), expect.closeTo(760, 9), 'dc_voltage']);
  });

  test.each(['converter_current', 'network_path', 'dc_voltage'] as const)('to the power that passes: %s', end => {
    // 375 kW at the converter: I·(800 − 0.05·I), 484.35 A.
    const { current, limit } = found({}, { power: [0, 375e3], needed: [0, 0], end });
    expect(current * (800 - 0.05 * current)).toBeCloseTo(375e3, 6);
    expect(limit).toBe(end);
    expect(found({}, { power: [0, 200e3, 375e3], needed: [0, 0, 0], end }).current).toBe(current);
    // More than the battery can give: its own end comes first.
    expect(found({}, { power: [0, 5e6], needed: [0, 0], end })).toMatchObject({ limit: 'power_collapse' });
    expect(found({}, { power: [], needed: [], end })).toMatchObject({ current: 0, power: 0, limit: end });
  });

  test('to the voltage that the converter needs for the power, between the points that say so', () => {
    // Needed: 760 V at nothing, 780 V at 400 kW, then steeply more. 800 − 0.05·I = 760 + 20·P/400 kW.
    const passage: Passage = { power: [0, 400e3, 500e3], needed: [760, 780, 900], end: 'network_path' };
    const { current, limit } = found({}, passage);
    const volts = 800 - 0.05 * current;
    expect(volts).toBeCloseTo(760 + (20 * current * volts) / 400e3, 6);
    expect(limit).toBe('dc_voltage');
    // Met all the way, another limit holds; met nowhere, nothing passes.
    expect(found({ currentLimit: 200 }, passage)).toMatchObject({ current: 200, limit: 'battery_current' });
    const never = { ...passage, needed: [801, 802, 900] };
    expect(found({ currentLimit: 200 }, never)).toMatchObject({ current: 0, limit: 'dc_voltage', voltage: 800 });
    // Between later points as between the first.
    const rising: Passage = { power: [0, 100e3, 300e3], needed: [700, 770, 795], end: 'network_path' };
    const later = found({}, rising);
    const left = 800 - 0.05 * later.current;
    expect(left).toBeCloseTo(770 + (25 * (later.current * left - 100e3)) / 200e3, 6);
    // Past the last point the need stays.
    const flat: Passage = { power: [0, 1e3], needed: [700, 790], end: 'network_path' };
    expect(found({ currentLimit: 1 }, flat).current).toBe(1);
  });

  test('to the least of several, and of equal ones the first', () => {
    expect(found({ currentLimit: 500, converterCurrent: 400 }).limit).toBe('converter_dc_current');
    expect(found({ currentLimit: 400, converterCurrent: 500 }).limit).toBe('battery_current');
    expect(found({ currentLimit: 400, converterCurrent: 400 }).limit).toBe('battery_current');
  });

  test('not at all where the voltage is past its limit already', () => {
    expect(found({ voltageLimit: 810 })).toMatchObject({
      current: 0,
      power: 0,
      voltage: 800,
      limit: 'battery_voltage',
    });
    expect(found({ lowest: 810 })).toMatchObject({ current: 0, limit: 'dc_voltage' });
    expect(found({ currentLimit: -5 })).toMatchObject({ current: 0, limit: 'battery_current' });
    expect(found({ voltageLimit: 800 })).toMatchObject({ current: 0, limit: 'battery_voltage' });
  });

  test('without resistance no voltage limits it', () => {
    const ideal = { resistance: 0, wires: 0, voltageLimit: 799, lowest: 799, currentLimit: 1e6 };
    expect(found(ideal)).toMatchObject({ current: 1e6, voltage: 800, limit: 'battery_current' });
    for (const voltageLimit of [800, 810]) {
      expect(found({ ...ideal, voltageLimit })).toMatchObject({ current: 0, limit: 'battery_voltage' });
    }
  });
});

describe('charging', () => {
  const found = (change: Partial<DcSource>, passage = open) =>
    limitedPower('charge', { ...charging, ...change }, passage);

  test('to the current of the battery, which raises its voltage', () => {
    expect(found({ currentLimit: 500 })).toEqual({
      power: 500 * 820,
      current: 500,
      voltage: 820,
      limit: 'battery_current',
    });
  });

  test('to the greatest voltage of the battery, and of the converter behind the cables', () => {
    expect(found({ voltageLimit: 820 })).toMatchObject({ current: expect.closeTo(500, 9), limit: 'battery_voltage' });
    expect(found({ highest: 820 })).toMatchObject({ current: expect.closeTo(400, 9), limit: 'dc_voltage' });
    expect(found({ voltageLimit: 790 })).toMatchObject({ current: 0, limit: 'battery_voltage' });
    expect(found({ highest: 790 })).toMatchObject({ current: 0, limit: 'dc_voltage' });
  });

  test('to the power that passes, with no collapse', () => {
    const { current, limit } = found({}, { power: [0, 20e6], needed: [0, 0], end: 'converter_current' });
    expect((current * (800 + 0.05 * current)) / 20e6).toBeCloseTo(1, 12);
    expect([current > 8000, limit]).toEqual([true, 'converter_current']);
  });

  test('to the voltage that the converter needs, which charging raises', () => {
    // 800 + 0.05·I against 790 + 40·P/400 kW.
    const passage: Passage = { power: [0, 400e3], needed: [790, 830], end: 'network_path' };
    const { current, limit } = found({}, passage);
    const volts = 800 + 0.05 * current;
    expect(volts).toBeCloseTo(790 + (40 * current * volts) / 400e3, 6);
    expect([current > 0, limit]).toEqual([true, 'dc_voltage']);
  });
});

describe('stretches of an axis', () => {
  const xs = [0, 0.25, 0.5, 0.75, 1];

  test('end where the name changes, to neighbouring numbers', () => {
    const found = stretchesOf(xs, x => ({ name: x < 0.3 ? 'low' : 'high', value: 10 * x }));
    expect(found.map(({ name }) => name)).toEqual(['low', 'high']);
    const [low, high] = [found[0]!, found[1]!];
    expect([low.from, high.to]).toEqual([0, 1]);
    expect(low.to).toBeLessThan(0.3);
    expect(high.from).toBeGreaterThanOrEqual(0.3);
    expect(high.from - low.to).toBeLessThan(1e-12);
    expect(low.points.map(({ x }) => x)).toEqual([0, 0.25, low.to]);
    expect(high.points.map(({ x }) => x)).toEqual([high.from, 0.5, 0.75, 1]);
    for (const { points } of found) for (const { x, value } of points) expect(value).toBe(10 * x);
  });

  test('that end at a point that is given hold it once', () => {
    const upTo = stretchesOf(xs, x => ({ name: x <= 0.25 ? 'low' : 'high', value: 0 }));
    expect(upTo[0]!.points.map(({ x }) => x)).toEqual([0, 0.25]);
    expect(upTo[1]!.points.map(({ x }) => x)).toEqual([upTo[1]!.from, 0.5, 0.75, 1]);
    const below = stretchesOf(xs, x => ({ name: x < 0.5 ? 'low' : 'high', value: 0 }));
    expect(below[0]!.points.map(({ x }) => x)).toEqual([0, 0.25, below[0]!.to]);
    expect(below[1]!.points.map(({ x }) => x)).toEqual([0.5, 0.75, 1]);
  });

  test('of a name that holds for less than a step between the points that are given are found too', () => {
    const name = (x: number) => (x < 0.3 ? 'a' : x < 0.4 ? 'b' : x < 0.45 ? 'c' : 'd');
    const found = stretchesOf(xs, x => ({ name: name(x), value: 0 }));
    expect(found.map(stretch => stretch.name)).toEqual(['a', 'b', 'c', 'd']);
    expect(found[2]!.from).toBeCloseTo(0.4, 12);
    expect(found[2]!.to).toBeCloseTo(0.45, 12);
  });

  test('are one where nothing changes, none without points, and not endless where names swarm', () => {
    expect(stretchesOf(xs, x => ({ name: 'one', value: x }))).toEqual([
      { from: 0, to: 1, name: 'one', points: xs.map(x => ({ x, value: x })) },
    ]);
    expect(stretchesOf([], () => ({ name: 'none', value: 0 }))).toEqual([]);
    const swarm = stretchesOf([0, 1], x => ({ name: Math.floor(x * 1000), value: x }));
    expect(swarm.length).toBeLessThan(10);
    expect(swarm.length).toBeGreaterThan(6);
  });
});
