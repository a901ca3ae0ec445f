// What a converter can do, against limits worked out apart from the engine: its points lie just where one of them binds.
import { describe, expect, it } from 'vitest';
import type { CapabilityAtVoltage } from '../../../engine/analysis.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { sound } from '../../kit/checks.ts';
import { directCurrent, facts, loaded, restVoltage } from '../../kit/hand-plant.ts';
import { analysed, type Edit, edited } from '../../kit/plants.ts';
import { starter } from '../../kit/starter.ts';

const valley = analysed(starter('valley-station.plant'), '2026-11-25');
const outlines = valley.analysis.values.capability('K1')!.outlines;

/** A, of the starter: one per cent less for each 100 m above 1000 m. */
const rated = facts.converterRating * (1 - (facts.altitude - 1000) / 10_000);
/** A; dry: 2.5 % less rise for each 500 m above 1000 m, the rise with current^1.6 (IEC 60076-11, -12, from memory). */
const thin = (1 - (0.025 * (facts.altitude - 1000)) / 500) ** (1 / 1.6);
const winding = (thin * facts.rating) / Math.sqrt(3) / facts.winding;

/** How far a point is from each limit, by the hand calculation; 1 is where it binds. */
function loadingsByHand(network: number, active: number, reactive: number) {
  const flow = loaded(network, active, reactive);
  const power = flow.terminalPower;
  const direct = power >= 0 ? power / facts.converterEfficiency : power * facts.converterEfficiency;
  const current = directCurrent(direct, 0.1, facts.resistance.warm);
  const available = (restVoltage(0.1) - (current * facts.resistance.warm) / facts.strings - current * 0) / Math.SQRT2;
  return {
    converter_current: flow.terminalCurrent / rated,
    transformer: flow.secondaryCurrent / winding,
    voltage_available: flow.terminalVoltage / available,
    // 280 A and 140 A a string at 25 °C.
    battery: current >= 0 ? current / (4 * 280) : -current / (4 * 140),
  };
}

describe('the outlines of the valley station', () => {
  it('are there at each network voltage', () => {
    expect(outlines.map(({ voltage }) => voltage)).toEqual(['low', 'nominal', 'high']);
    expect(outlines.map(({ networkVoltage }) => networkVoltage)).toEqual([
      expect.closeTo(360, 9),
      400,
      expect.closeTo(440, 9),
    ]);
  });

  it.each(outlines.map(outline => [outline.voltage, outline] as const))(
    'at %s voltage lie where by hand the named limit binds, and no other is broken',
    (_, { networkVoltage, points }) => {
      expect(points.length).toBeGreaterThanOrEqual(48);
      for (const { active, reactive, limit } of points) {
        const hand = loadingsByHand(networkVoltage, active, reactive);
        expect(Object.keys(hand)).toContain(limit);
        // The DC cable’s drop, a few tenths of a volt, is left out of the hand’s available voltage.
        const slack = limit === 'voltage_available' ? 3e-3 : 1e-5;
        expect(Math.abs(hand[limit as keyof typeof hand] - 1), `${limit} at ${active} W, ${reactive} var`).toBeLessThan(
          slack,
        );
        for (const value of Object.values(hand)) expect(value).toBeLessThan(1 + 3e-3);
      }
    },
  );

  it('bend where another limit takes over', () => {
    const used = new Set(outlines.flatMap(({ points }) => points.map(({ limit }) => limit)));
    expect(used.size).toBeGreaterThan(1);
    for (const { points } of outlines) {
      for (const [index, { active, reactive }] of points.entries()) {
        const next = points[(index + 1) % points.length]!;
        // Seen from the origin the next point lies further round.
        expect(active * next.reactive - reactive * next.active).toBeGreaterThan(-1);
      }
    }
  });
});

const outlineWith = (voltage: CapabilityAtVoltage['voltage'], ...edits: readonly Edit[]) =>
  sound(...edits)
    .analysis.values.capability('K1')!
    .outlines.find(each => each.voltage === voltage)!;
const most = ({ points }: CapabilityAtVoltage, of: 'active' | 'reactive') =>
  Math.max(...points.map(point => point[of]));

describe('the limits', () => {
  it('of the DC side bind delivered reactive power where its voltage is short', () => {
    const high: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 450 V'];
    const outline = outlineWith('high', high);
    // Where no active power flows; charging lifts the voltage, and further round the battery binds.
    const top = outline.points.find(({ active, reactive }) => Math.abs(active) < 1 && reactive > 0);
    expect(top?.limit).toBe('voltage_available');
    expect(most(outline, 'reactive')).toBeLessThan(most(outlineWith('low', high), 'reactive'));
  });

  it('leave a region beside the origin where idling takes more voltage than there is', () => {
    const outline = outlineWith('high', ['secondary_voltage = 360 V', 'secondary_voltage = 480 V']);
    expect(outline.points.length).toBeGreaterThan(40);
    expect(most(outline, 'reactive')).toBeLessThan(0);
  });

  it('leave nothing where no reactive power brings the voltage down far enough', () => {
    const outline = outlineWith('high', ['secondary_voltage = 360 V', 'secondary_voltage = 900 V']);
    expect(outline.points).toEqual([]);
    expect(outline.empty).toBe('voltage_available');
  });

  it('widen with the converter where it is the one that binds', () => {
    const small = outlineWith('low', ['ac_current = 850 A', 'ac_current = 500 A']);
    expect(new Set(small.points.map(({ limit }) => limit))).toContain('converter_current');
    expect(most(outlineWith('low'), 'reactive')).toBeGreaterThan(most(small, 'reactive'));
  });

  it('count the rated direct current, and the terminal span', () => {
    const limits = (...edits: readonly Edit[]) =>
      new Set(outlineWith('low', ...edits).points.map(({ limit }) => limit));
    expect(limits(['ac_current = 850 A', 'ac_current = 850 A\n  dc_current = 300 A'])).toContain('dc_current');
    expect(limits(['ac_current = 850 A', 'ac_current = 850 A\n  ac_voltage = 320 V .. 335 V'])).toContain('ac_voltage');
  });
});

describe('who may ask', () => {
  it('asks a converter, in a case that is there', () => {
    const { values } = analysed(
      edited(soundExample, ['\nrequire', '\ncase cold { B1.temperature = 5 °C }\n\nrequire']),
    ).analysis;
    expect(values.capability('K1', 'cold')?.case).toBe('cold');
    expect(values.capability('K1', 'hot')).toBeUndefined();
    expect(values.capability('T1')).toBeUndefined();
    expect(values.capability('K9')).toBeUndefined();
    // Cells charge at less in the cold.
    const least = (name: string) =>
      Math.min(...values.capability('K1', name)!.outlines[1]!.points.map(({ active }) => active));
    expect(least('cold')).toBeGreaterThan(least(''));
  });

  it('gets nothing where a fact is missing', () => {
    expect(sound(['ac_current = 850 A\n', '']).analysis.values.capability('K1')).toBeUndefined();
  });
});
