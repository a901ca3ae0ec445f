// Conservation of power and charge at every node of sound plants, scaled at random, and what must not fall when it should rise.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PointView } from '../../engine/finding.ts';
import { evenly } from '../kit/evenly.ts';
import { type Design, filesOfDesign, stating, tagsOf, wordsOf } from '../kit/plant-design.ts';
import { type Analysed, analysed, reader } from '../kit/plants.ts';
import { number, type SoundPlant, soundPlants } from '../kit/sound-plants.ts';

// Making a plant that fails smaller takes a quarter of an hour; its seed brings it back as it is.
fc.configureGlobal({ endOnFailure: true });

const somePlant = fc.constantFrom(...soundPlants.filter(({ design }) => !picks(design)));

/** Every candidate of a pick is a plant of its own; one that is picked is judged elsewhere. */
function picks(design: Design): boolean {
  return wordsOf(design, 'transformer', 'rated_power') === 'pick';
}

/** The plant with its power, its strings and its winding scaled. */
const scaled = fc
  .record({
    plant: somePlant,
    power: evenly(0.1, 1.3),
    strings: fc.integer({ min: 1, max: 3 }),
    winding: evenly(0.7, 1.05),
  })
  .map(({ plant, power, strings, winding }) => {
    const { design, hand } = plant;
    const asked = `${number((power * hand.power) / 1000)} kW for ${number(hand.duration)} s`;
    const volts = Number.parseFloat(wordsOf(design, 'transformer', 'secondary_voltage') ?? 'NaN');
    let changed = stating(design, 'discharging', 'discharge', asked);
    changed = stating(changed, 'battery', 'strings', String(strings * hand.strings));
    if (!design.backwards && !Number.isNaN(volts))
      changed = stating(changed, 'transformer', 'secondary_voltage', `${number(winding * volts)} V`);
    return { ...plant, design: changed };
  });

const of = (design: Design): Analysed => analysed(filesOfDesign(design));

/** Points of a battery at which all is known. */
function pointsOf({ analysis }: Analysed): readonly PointView[] {
  return analysis.values.all('B1.current').flatMap(({ value, point }) => (value === undefined ? [] : [point]));
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

function expectClose(actual: number, expected: number, scale: number, what: string): void {
  expect(Math.abs(actual - expected) / Math.abs(scale), what).toBeLessThan(1e-8);
}

/** Power of the network, of all elements and of all batteries, node by node. The filters of these plants lose nothing. */
function expectBalance(design: Design, analysis: Analysed, point: PointView): void {
  const at = reader(analysis);
  const total = (section: 'converter' | 'transformer', name: string): number =>
    sum(tagsOf(design, section).map(tag => at(`${tag}.${name}`, point)));
  const network = at(`${point.duty}.network_power`, { ...point, duty: undefined });
  const cable = tagsOf(design, 'networkCable').map(
    tag => 3 * at(`${tag}.current`, point) ** 2 * at(`${tag}.series_resistance`, point),
  );
  const terminals = total('converter', 'terminal_power');
  expectClose(terminals, network + sum(cable) + total('transformer', 'loss'), network, 'network to converters');
  const direct = total('converter', 'dc_power');
  expectClose(direct, terminals + total('converter', 'loss'), network, 'through the converters');
  const way = Math.sign(direct);
  const wires = tagsOf(design, 'batteryCable').map(tag => at(`${tag}.loss`, point));
  const batteries = tagsOf(design, 'battery');
  const terminal = sum(batteries.map(tag => way * at(`${tag}.current`, point) * at(`${tag}.voltage_min`, point)));
  expectClose(terminal, direct + sum(wires), network, 'converters to batteries');
  const inner = sum(batteries.map(tag => way * at(`${tag}.current`, point) * at(`${tag}.rest_voltage`, point)));
  const heat = sum(batteries.map(tag => at(`${tag}.current`, point) ** 2 * at(`${tag}.inner_resistance`, point)));
  expectClose(inner, terminal + heat, network, 'inside the batteries');
  const efficiency = at(`${point.duty}.efficiency`, { ...point, duty: undefined });
  expectClose(efficiency, network > 0 ? network / inner : inner / network, 1, 'efficiency');
}

/** Plants tried, and how many known points each must bring on average, so that nothing holds for want of points. */
const tried = 40;
const pointsEach = 15;

describe('conservation', () => {
  it('of power holds at every node, for every case, duty and corner', () => {
    let points = 0;
    fc.assert(
      fc.property(scaled, ({ design }) => {
        const analysis = of(design);
        for (const point of pointsOf(analysis)) {
          points++;
          expectBalance(design, analysis, point);
        }
      }),
      { numRuns: tried, seed: 1 },
    );
    expect(points).toBeGreaterThan(tried * pointsEach);
  });

  it('of what is asked: the network gets the duty’s power and reactive power', () => {
    fc.assert(
      fc.property(scaled, ({ design, hand }) => {
        const analysis = of(design);
        const asked = 1000 * Number.parseFloat(wordsOf(design, 'discharging', 'discharge')!);
        const stated = wordsOf(design, 'discharging', 'reactive');
        const factor = Number.parseFloat(wordsOf(design, 'discharging', 'power_factor') ?? '1');
        const reactive =
          stated === undefined ? asked * Math.sqrt(1 / factor ** 2 - 1) : 1000 * Math.abs(Number.parseFloat(stated));
        const known = (name: string) =>
          analysis.analysis.values.all(name).flatMap(({ value }) => (value === undefined ? [] : [value]));
        expect(known('discharging.network_power').length).toBeGreaterThan(0);
        for (const power of known('discharging.network_power')) expectClose(power, asked, asked, 'active');
        for (const power of known('discharging.network_reactive_power'))
          expectClose(Math.abs(power), reactive, asked, 'reactive');
        expect(known('charging.network_power').length).toBeGreaterThan(0);
        for (const power of known('charging.network_power'))
          expectClose(power, -hand.chargePower, hand.chargePower, 'charge');
      }),
      { numRuns: 25, seed: 2 },
    );
  });

  it('of charge: a discharge lasts between what the current at its beginning and at its end make of the capacity', () => {
    let compared = 0;
    const constant = scaled.filter(({ design }) => wordsOf(design, 'battery', 'chemistry') !== 'lead_acid');
    fc.assert(
      fc.property(constant, ({ design, hand }) => {
        const analysis = of(design);
        const at = reader(analysis);
        const [bottom, top] = hand.span;
        for (const { value: time, point } of analysis.analysis.values.all('B1.discharge_time')) {
          if (time === undefined || point.duty !== 'discharging') continue;
          if (Math.abs(at('B1.discharge_end_soc', point) - bottom) > 1e-6) continue;
          const charge = at('B1.usable_capacity', point) * (top - bottom);
          compared++;
          // Half a per cent: the run holds the power at the battery, not before the cable, where it changes a little.
          expect(time * at('B1.current', { ...point, soc: top })).toBeLessThan(charge * 1.005);
          expect(time * at('B1.current', { ...point, soc: bottom })).toBeGreaterThan(charge * 0.995);
          const energy = at('B1.energy', point);
          const network = at('discharging.network_power', { ...point, duty: undefined }) / hand.batteries;
          expect(energy).toBeGreaterThan(network * time);
          expect(energy).toBeLessThan(charge * hand.top);
        }
      }),
      { numRuns: 25, seed: 3 },
    );
    expect(compared).toBeGreaterThan(50);
  });
});

describe('never the wrong way', () => {
  const known = (design: Design, name: string): readonly number[] =>
    of(design)
      .analysis.values.all(name)
      .map(({ value }) => value ?? Number.NaN);

  /** Of each point with both values; there must be some. */
  function expectNotLess(after: readonly number[], before: readonly number[]): void {
    expect(after).toHaveLength(before.length);
    let compared = 0;
    for (const [index, value] of after.entries()) {
      if (Number.isNaN(value) || Number.isNaN(before[index]!)) continue;
      compared++;
      expect(value).toBeGreaterThanOrEqual(before[index]! - 1e-6 * Math.abs(before[index]!));
    }
    expect(compared).toBeGreaterThan(0);
  }

  /** A value of the plant before and after a change that makes it larger, or leaves it. */
  function grows(
    name: string,
    change: (plant: SoundPlant, factor: number) => readonly [before: Design, after: Design],
    holds: (plant: SoundPlant) => boolean = () => true,
  ): void {
    fc.assert(
      fc.property(somePlant.filter(holds), evenly(1, 2), (plant, factor) => {
        const [before, after] = change(plant, factor);
        expectNotLess(known(after, name), known(before, name));
      }),
      { numRuns: 15, seed: 4 },
    );
  }

  const strings = (plant: SoundPlant, count: number): Design =>
    stating(plant.design, 'battery', 'strings', String(plant.hand.strings + count));

  it('more strings last no shorter', () => {
    grows('B1.discharge_time', (plant, factor) => [plant.design, strings(plant, Math.round(5 * factor))]);
  });

  it('colder cells last no longer', () => {
    const kept = (plant: SoundPlant, celsius: number): Design =>
      stating({ ...plant.design, cases: {} }, 'battery', 'temperature', `${number(celsius)} °C`);
    grows('B1.discharge_time', (plant, factor) => [kept(plant, 25 - 10 * factor), kept(plant, 25)]);
  });

  it('worn cells last no longer', () => {
    const worn = ({ design }: SoundPlant, factor: number): Design =>
      stating({ ...design, cases: {} }, 'battery', 'state_of_health', `${number(100 / factor)} %`);
    grows('B1.discharge_time', (plant, factor) => [worn(plant, factor), worn(plant, 1)]);
  });

  it('a higher band of the network lowers no blocked voltage', () => {
    const band = ({ design, hand }: SoundPlant, tolerance: number): Design =>
      stating(design, 'grid', 'voltage', `${hand.network} V ± ${number(tolerance)} %`);
    grows('K1.blocked_voltage', (plant, factor) => [band(plant, 10), band(plant, 10 * factor)]);
  });

  it('a higher winding lowers no blocked voltage', () => {
    const winding = ({ design, hand }: SoundPlant, factor: number): Design =>
      stating(design, 'transformer', 'secondary_voltage', `${number(hand.winding * factor)} V`);
    grows(
      'K1.blocked_voltage',
      (plant, factor) => [winding(plant, 0.5), winding(plant, 0.5 * factor)],
      ({ design }) => design.sections.transformer !== undefined && !design.backwards,
    );
  });

  it('a weaker network changes its voltage no less', () => {
    const power = ({ design, hand }: SoundPlant, factor: number): Design =>
      stating(design, 'grid', 'fault_power', `${number((20 * hand.power * factor) / 1e6)} MVA`);
    grows('MAIN.voltage_change', (plant, factor) => [power(plant, factor), power(plant, 1)]);
  });

  it('a larger converter is no more loaded, and one on a mountain no less', () => {
    // Losses that do not read the rating, so that the same current flows.
    const size = ({ design, hand }: SoundPlant, factor: number): Design =>
      stating(
        stating(design, 'converter', 'efficiency', '98 %'),
        'converter',
        'ac_current',
        `${number(hand.ratedCurrent * factor)} A`,
      );
    grows('K1.loading', (plant, factor) => [size(plant, factor), size(plant, 1)]);
    const site = ({ design }: SoundPlant, metres: number): Design =>
      stating(design, 'site', 'altitude', `${number(metres)} m`);
    grows('K1.loading', (plant, factor) => [site(plant, 1000), site(plant, 1000 * factor)]);
  });
});
