// Sources side by side: one source in their stead, and what each of them carries.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equalising, type Source, together } from '../../../engine/physics/bank.ts';
import { evenly } from '../../kit/evenly.ts';

const source = (emf: number, resistance: number): Source => ({ emf, resistance });
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

describe('sources side by side', () => {
  it('of equal voltage divide a current as their conductances', () => {
    expect(together([source(700, 0.1), source(700, 0.3)])).toEqual({
      emf: expect.closeTo(700, 9),
      resistance: expect.closeTo(0.075, 12),
      parts: [expect.closeTo(0.75, 12), expect.closeTo(0.25, 12)],
    });
  });

  it('of unequal voltage meet where no current is left over', () => {
    const pair = [source(700, 0.1), source(720, 0.3)];
    // 20 V over 0.4 Ω.
    expect(equalising(pair)).toEqual([expect.closeTo(-50, 9), expect.closeTo(50, 9)]);
    expect(together(pair).emf).toBeCloseTo(705, 9);
  });

  it('behind a resistance that they share are one source behind it', () => {
    const nested = together([{ resistance: 0.05, sources: [source(700, 0.1), source(700, 0.3)] }, source(700, 0.125)]);
    expect(nested.resistance).toBeCloseTo(0.0625, 12);
    expect(nested.parts).toEqual([expect.closeTo(0.375, 12), expect.closeTo(0.125, 12), expect.closeTo(0.5, 12)]);
  });

  it('charge each other through the resistance that some of them share', () => {
    // Inside 705 V behind 75 mΩ and 25 mΩ; beside 725 V behind 0.1 Ω they meet at 715 V, the shared terminals at 712.5 V.
    const shared = { resistance: 0.025, sources: [source(700, 0.1), source(720, 0.3)] };
    expect(equalising([shared, source(725, 0.1)])).toEqual([
      expect.closeTo(-125, 9),
      expect.closeTo(25, 9),
      expect.closeTo(100, 9),
    ]);
  });

  it('are unknown where one has no resistance', () => {
    expect(together([source(700, 0), source(700, 0.1)]).resistance).toBeNaN();
  });

  const some = fc.array(fc.tuple(evenly(500, 900), evenly(1e-3, 1)), { minLength: 1, maxLength: 6 });

  it('carry all of a current between them, and nothing of their own', () => {
    fc.assert(
      fc.property(some, all => {
        const sources = all.map(([emf, resistance]) => source(emf, resistance));
        const { emf, resistance, parts } = together(sources);
        const volts = all.map(([one]) => one);
        expect(sum(parts)).toBeCloseTo(1, 9);
        expect(Math.abs(sum(equalising(sources)))).toBeLessThan(1e-6);
        expect(resistance).toBeLessThanOrEqual(Math.min(...all.map(([, one]) => one)) * (1 + 1e-12));
        expect(emf).toBeGreaterThanOrEqual(Math.min(...volts) * (1 - 1e-12));
        expect(emf).toBeLessThanOrEqual(Math.max(...volts) * (1 + 1e-12));
      }),
    );
  });
});
