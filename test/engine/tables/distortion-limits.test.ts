// The limits of distortion: which row and column holds, and that they are ordered as limits must be.

import { describe, expect, test } from 'vitest';
import {
  type CurrentLimitCase,
  currentOrderLimit,
  generationElsewhere,
  highestOrder,
  type Ieee519Edition,
  totalDemandLimit,
  totalVoltageLimit,
  type VoltageLimitSet,
  voltageOrderLimit,
} from '../../../engine/tables/distortion-limits.ts';

const editions: readonly Ieee519Edition[] = ['1992', '2014', '2022'];
const sets: readonly VoltageLimitSet[] = [
  'en_50160',
  'iec_61000_2_4_class_1',
  'iec_61000_2_4_class_2',
  'iec_61000_2_4_class_3',
  'ieee_519',
  'iacs_ur_e24',
  'iec_60092_101',
];
const load = (shortCircuitRatio: number, edition: Ieee519Edition = '2014'): CurrentLimitCase => ({
  edition,
  shortCircuitRatio,
  generation: false,
});
const ordersFrom = (first: number, last: number, step: number): number[] =>
  Array.from({ length: Math.floor((last - first) / step) + 1 }, (_, index) => first + index * step);

describe('currents after IEEE 519', () => {
  test.each(editions)('%s: a stronger network allows no less, in total and at every order', edition => {
    const ratios = [1, 19.9, 20, 49, 50, 99, 100, 1000, 1001, 1e6];
    for (const [index, ratio] of ratios.entries()) {
      if (index === 0) continue;
      const [weaker, stronger] = [load(ratios[index - 1]!, edition), load(ratio, edition)];
      expect(totalDemandLimit(stronger)!.limit).toBeGreaterThanOrEqual(totalDemandLimit(weaker)!.limit);
      for (const order of ordersFrom(2, 50, 1)) {
        const [low, high] = [currentOrderLimit(weaker, order)!, currentOrderLimit(stronger, order)!];
        expect(high.limit, `order ${order}`).toBeGreaterThanOrEqual(low.limit);
      }
    }
  });

  test.each(editions)('%s: higher odd orders are allowed no more, and none more than the total', edition => {
    for (const ratio of [5, 30, 70, 300, 5000]) {
      const limits = ordersFrom(3, 49, 2).map(order => currentOrderLimit(load(ratio, edition), order)!.limit);
      limits.slice(1).forEach((limit, index) => {
        expect(limit).toBeLessThanOrEqual(limits[index]!);
      });
      expect(limits[0]!).toBeLessThan(totalDemandLimit(load(ratio, edition))!.limit);
    }
  });

  test('columns begin at 11, 17, 23 and 35', () => {
    const at = (order: number): number => currentOrderLimit(load(10), order)!.limit;
    expect([9, 11, 15, 17, 21, 23, 33, 35, 49].map(at)).toEqual(
      [4, 2, 2, 1.5, 1.5, 0.6, 0.6, 0.3, 0.3].map(percent => percent / 100),
    );
  });

  test('even orders have a quarter of the odd limit, since 2022 half to order 6 and all above', () => {
    const at = (edition: Ieee519Edition, order: number): number => currentOrderLimit(load(30, edition), order)!.limit;
    expect(at('1992', 4)).toBeCloseTo(0.0175, 12);
    expect(at('2014', 8)).toBeCloseTo(0.0175, 12);
    expect(at('2022', 6)).toBeCloseTo(0.035, 12);
    expect(at('2022', 8)).toBeCloseTo(0.07, 12);
    expect(at('2022', 12)).toBeCloseTo(0.035, 12);
  });

  test('equipment that generates has the first row, and since 2022 another standard first', () => {
    for (const edition of editions) {
      const battery = { edition, shortCircuitRatio: 400, generation: true };
      expect(totalDemandLimit(battery)!.limit).toBe(0.05);
      expect(currentOrderLimit(battery, 5)!.limit).toBe(0.04);
      expect(generationElsewhere(battery)).toBe(edition === '2022');
      expect(generationElsewhere({ ...battery, generation: false })).toBe(false);
    }
  });

  test('1992 limits every order, the later editions end at 50', () => {
    expect(currentOrderLimit(load(10, '1992'), 79)!.limit).toBe(0.003);
    expect(currentOrderLimit(load(10, '2014'), 51)).toBeUndefined();
    expect(currentOrderLimit(load(10, '2022'), 79)).toBeUndefined();
  });

  test('a stiff network has the last row; no ratio, no whole order or the fundamental has none', () => {
    expect(totalDemandLimit(load(Number.POSITIVE_INFINITY))!.limit).toBe(0.2);
    expect(totalDemandLimit(load(0))).toBeUndefined();
    expect(totalDemandLimit(load(Number.NaN))).toBeUndefined();
    expect(currentOrderLimit(load(10), 5.5)).toBeUndefined();
    expect(currentOrderLimit(load(10), 1)).toBeUndefined();
  });
});

describe('voltages', () => {
  test.each(sets)('%s: no single order is allowed more than the total', set => {
    const total = totalVoltageLimit(set, 400)!.limit;
    for (const order of ordersFrom(2, highestOrder(set), 1)) {
      expect(voltageOrderLimit(set, order, 400)?.limit ?? 0).toBeLessThanOrEqual(total);
    }
  });

  test('a higher class of industrial network allows no less, in total and at every order', () => {
    const classes = ['iec_61000_2_4_class_1', 'iec_61000_2_4_class_2', 'iec_61000_2_4_class_3'] as const;
    for (const [index, set] of classes.entries()) {
      if (index === 0) continue;
      const below = classes[index - 1]!;
      expect(totalVoltageLimit(set, 400)!.limit).toBeGreaterThan(totalVoltageLimit(below, 400)!.limit);
      for (const order of ordersFrom(2, 50, 1)) {
        const [low, high] = [voltageOrderLimit(below, order, 400)!, voltageOrderLimit(set, order, 400)!];
        expect(high.limit, `order ${order}`).toBeGreaterThanOrEqual(low.limit);
      }
    }
  });

  test('within a family of orders of an industrial network higher ones are allowed no more', () => {
    const families = [
      [5, 7, 11, 13, 17, 19, 23, 25, 29, 31, 35, 37, 41, 43, 47, 49],
      [3, 9, 15, 21, 27, 33, 39, 45],
      [2, 4, 6, 8, 10, 12, 20, 50],
    ];
    for (const set of ['iec_61000_2_4_class_1', 'iec_61000_2_4_class_2', 'iec_61000_2_4_class_3'] as const) {
      for (const family of families) {
        const limits = family.map(order => voltageOrderLimit(set, order, 400)!.limit);
        limits.slice(1).forEach((limit, index) => {
          expect(limit, `${set} order ${family[index + 1]}`).toBeLessThanOrEqual(limits[index]! + 1e-12);
        });
      }
    }
  });

  test('a higher voltage allows less after IEEE 519, whose edition of 1992 has no row for low voltage', () => {
    expect([400, 1000, 20e3, 69e3, 110e3, 220e3].map(volts => totalVoltageLimit('ieee_519', volts)!.limit)).toEqual([
      0.08, 0.08, 0.05, 0.05, 0.025, 0.015,
    ]);
    expect(totalVoltageLimit('ieee_519', 400, '1992')!.limit).toBe(0.05);
    expect(voltageOrderLimit('ieee_519', 5, 400, '1992')!.limit).toBe(0.03);
    expect(voltageOrderLimit('ieee_519', 5, 400, '2014')!.limit).toBe(0.05);
  });

  test('EN 50160 has no figure above 36 kV, for orders above 25 and for even ones above 24', () => {
    expect(totalVoltageLimit('en_50160', 20e3)!.limit).toBe(0.08);
    expect(totalVoltageLimit('en_50160', 110e3)).toBeUndefined();
    expect(voltageOrderLimit('en_50160', 5, 110e3)).toBeUndefined();
    expect(voltageOrderLimit('en_50160', 29, 400)).toBeUndefined();
    expect(voltageOrderLimit('en_50160', 26, 400)).toBeUndefined();
  });

  test('a ship has one total for all orders', () => {
    expect(totalVoltageLimit('iacs_ur_e24', 690)!.limit).toBe(0.08);
    expect(voltageOrderLimit('iacs_ur_e24', 5, 690)).toBeUndefined();
  });

  test('no voltage, a broken order or one past the end has none', () => {
    expect(totalVoltageLimit('ieee_519', 0)).toBeUndefined();
    expect(voltageOrderLimit('ieee_519', 5.5, 400)).toBeUndefined();
    expect(voltageOrderLimit('ieee_519', 51, 400)).toBeUndefined();
    expect(voltageOrderLimit('iec_61000_2_4_class_2', 53, 400)).toBeUndefined();
    expect(voltageOrderLimit('iec_61000_2_4_class_2', 1, 400)).toBeUndefined();
  });
});
