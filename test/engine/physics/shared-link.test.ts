// One DC link that several choppers hold: the least voltage that one of them leaves counts, currents are commanded.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { constantPower } from '../../../engine/physics/battery.ts';
import { type Feeder, sharedLink } from '../../../engine/physics/shared-link.ts';
import { evenly } from '../../kit/evenly.ts';

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

function solved(feeders: readonly Feeder[], wires: number, power: number) {
  const found = sharedLink(feeders, wires, power);
  if (!found.ok) throw new Error(`at most ${found.largestPower} W`);
  return found;
}

describe('a link held by several', () => {
  it('is a source behind its wires where one holds it', () => {
    const { current, voltage, fed } = solved([{ voltage: 750, share: 1, rise: 0 }], 0.01, 300e3);
    const alone = constantPower(750, 0.01, 300e3);
    expect(alone).toEqual({ ok: true, current, voltage });
    expect(fed).toEqual([{ current, voltage: expect.closeTo(750, 9), power: expect.closeTo(750 * current, 6) }]);
  });

  it('stands where the longest way leaves it while it gives, and where the shortest does while it takes', () => {
    const feeders = [
      { voltage: 750, share: 0.5, rise: 0.01 },
      { voltage: 750, share: 0.5, rise: 0.02 },
    ];
    const giving = solved(feeders, 0, 300e3);
    expect(giving.fed.map(({ voltage }) => voltage)).toEqual([expect.closeTo(750 - 0.01 * giving.current, 9), 750]);
    const taking = solved(feeders, 0, -300e3);
    expect(taking.fed.map(({ voltage }) => voltage)).toEqual([750, expect.closeTo(750 + 0.01 * taking.current, 9)]);
  });

  it('is held by the one that holds less', () => {
    const { voltage } = solved(
      [
        { voltage: 750, share: 0.9, rise: 0 },
        { voltage: 700, share: 0.1, rise: 0 },
      ],
      0,
      1e5,
    );
    expect(voltage).toBe(700);
  });

  it('gives at most what the least of them lets through', () => {
    const feeders = [
      { voltage: 700, share: 0.5, rise: 0.1 },
      { voltage: 700, share: 0.5, rise: 0.3 },
    ];
    expect(sharedLink(feeders, 0.1, 1e6)).toEqual({ ok: false, largestPower: expect.closeTo(700 ** 2 / 1.6, 6) });
    expect(sharedLink([], 0, 1)).toEqual({ ok: false, largestPower: 0 });
  });

  const some = fc.array(fc.record({ volts: evenly(690, 750), part: evenly(0.1, 1), rise: evenly(0, 0.02) }), {
    minLength: 1,
    maxLength: 5,
  });

  it('keeps energy, the commanded parts, and nobody above what it holds', () => {
    fc.assert(
      fc.property(some, evenly(0, 0.02), evenly(-500e3, 500e3), (all, wires, power) => {
        const whole = sum(all.map(({ part }) => part));
        // Ways of their own: what one drops is its resistance times its own part.
        const feeders = all.map(({ volts, part, rise }) => ({
          voltage: volts,
          share: part / whole,
          rise: (rise * part) / whole,
        }));
        const { current, voltage, fed } = solved(feeders, wires, power);
        expect(sum(fed.map(one => one.current))).toBeCloseTo(current, 6);
        const lost = wires * current ** 2 + sum(all.map(({ rise }, index) => rise * fed[index]!.current ** 2));
        expect(sum(fed.map(one => one.power)) - lost - power).toBeCloseTo(0, 5);
        expect(voltage * current).toBeCloseTo(power, 5);
        for (const [index, one] of fed.entries()) {
          expect(one.voltage).toBeLessThanOrEqual(feeders[index]!.voltage + 1e-9);
          expect(one.current).toBeCloseTo(feeders[index]!.share * current, 9);
        }
        expect(Math.min(...fed.map((one, index) => feeders[index]!.voltage - one.voltage))).toBeCloseTo(0, 9);
      }),
    );
  });
});
