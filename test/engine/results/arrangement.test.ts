// Several converters side by side: they share by rating, add up on what they share, and hold with one of them lost.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { type Analysed, analysed, complaints, type Edit, edited, theFinding, worst } from '../../kit/plants.ts';

const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const filter = (tag: string) =>
  `filter ${tag} { converter_inductance = 100 µH, capacitance = 150 µF, damping_resistance = 60 mΩ }\n`;
const converter = (tag: string, amperes: number) =>
  `converter ${tag} { ac_current = ${amperes} A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz, carriers = synchronised }\n`;

/** Several capacitors behind one transformer raise the blocked voltage together. */
const smaller: Edit = ['capacitance = 300 µF', 'capacitance = 150 µF'];
const alone = (): Analysed => analysed(edited(soundExample, smaller));

/** The sound example with a second and a third converter beside the first, on the same winding and battery. */
function beside(amperes: readonly number[], ...edits: readonly Edit[]): Analysed {
  const others = amperes
    .map((rated, index) => `${filter(`F${index + 2}`)}${converter(`K${index + 2}`, rated)}`)
    .join('');
  const chains = amperes.map((_, index) => `connect N1 -> F${index + 2} -> K${index + 2} -> N2`).join('\n');
  return analysed(
    edited(
      soundExample,
      [chain, `bus N1 {}\nbus N2 {}\n${others}connect MAIN -> T1 -> N1 -> F1 -> K1 -> N2 -> B1\n${chains}`],
      smaller,
      ['  switching_frequency = 4 kHz\n', '  switching_frequency = 4 kHz\n  carriers = synchronised\n'],
      ...edits,
    ),
  );
}

const untouched = (): Analysed => analysed(soundExample);

const value = (plant: Analysed, name: string): number => worst(plant, name).value;

describe('converters of unequal rating', () => {
  const plant = beside([425]);

  it('share a demand by their ratings', () => {
    expect(value(plant, 'K1.terminal_power') / value(plant, 'K2.terminal_power')).toBeCloseTo(2, 2);
    expect(value(plant, 'start_peak.network_power')).toBeCloseTo(400e3, 3);
  });

  it('add up on the winding that they share', () => {
    const one = value(alone(), 'T1.secondary_current');
    // Within the reactive power of the second filter's capacitor.
    expect(value(plant, 'T1.secondary_current') / one).toBeGreaterThan(0.97);
    expect(value(plant, 'T1.secondary_current') / one).toBeLessThan(1.03);
  });

  it('add up in the battery that they share', () => {
    // Not quite in fixed parts: filters of one size lie behind converters of two.
    const sum = value(plant, 'K1.dc_current') + value(plant, 'K2.dc_current');
    expect(sum / value(plant, 'B1.current')).toBeCloseTo(1, 3);
  });

  it('are shared by equal parts where one rating is not known', () => {
    const open = beside([425], ['ac_current = 425 A, ', '']);
    expect(value(open, 'K1.dc_power')).toBeCloseTo(value(open, 'K2.dc_power'), 6);
  });
});

describe('with one unit lost', () => {
  const asked: Edit = ['power_factor = 0.95 }', 'power_factor = 0.95, lost = unit }'];

  it('the rest carries the whole duty', () => {
    const [all, rest] = [beside([850, 850]), beside([850, 850], asked)];
    expect(complaints(rest).map(({ message }) => message)).toEqual([]);
    expect(value(rest, 'start_peak.network_power')).toBeCloseTo(400e3, 3);
    const during = (plant: Analysed) => value(plant, 'K2.dc_power');
    expect(during(rest) / during(all)).toBeCloseTo(1.5, 2);
    expect(value(rest, 'K2.dc_current') + value(rest, 'K3.dc_current')).toBeCloseTo(value(rest, 'B1.current'), 6);
  });

  it('two converters are judged as the one that is left', () => {
    const rest = beside([850], asked);
    const one = alone();
    for (const name of ['loading', 'dc_power', 'terminal_voltage', 'voltage_reserve'])
      expect(value(rest, `K2.${name}`), name).toBeCloseTo(value(one, `K1.${name}`), 9);
    expect(value(rest, 'T1.loading')).toBeCloseTo(value(one, 'T1.loading'), 9);
  });

  it('it is the largest that is lost', () => {
    const found = theFinding(beside([425], asked), 'converter_loading');
    expect(found).toMatchObject({ subject: 'K2', severity: 'error' });
    expect(found.message).toContain('during start_peak with K1 lost');
  });

  it('other duties keep all of them', () => {
    const [all, rest] = [beside([850, 850]), beside([850, 850], asked)];
    const braking = (plant: Analysed) => plant.analysis.values.worst('K1.dc_power');
    expect(braking(rest)?.value).toBeLessThan(0);
    expect(value(rest, 'B1.refill_time') / value(all, 'B1.refill_time')).toBeCloseTo(1, 2);
  });

  it('a plant of one has none left', () => {
    const found = theFinding(analysed(edited(soundExample, asked)), 'power_shortfall');
    expect(found.message).toContain('K1 is the only converter: 0 units are left');
  });
});

describe('converters of unequal switching frequency behind one filter', () => {
  const slow = 'converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 2 kHz }';
  const shared = (first: string, second: string) =>
    analysed(
      edited(soundExample, [
        chain,
        `bus N1 {}\nbus N2 {}\n${slow}\nconnect MAIN -> T1 -> F1 -> N1 -> ${first} -> N2 -> B1\nconnect N1 -> ${second} -> N2`,
      ]),
    );

  it('give its choke the ripple of the slower one, whichever comes first', () => {
    for (const plant of [shared('K1', 'K2'), shared('K2', 'K1')]) {
      const voltage = Math.max(value(plant, 'K1.dc_voltage_max'), value(plant, 'K2.dc_voltage_max'));
      expect(value(plant, 'F1.ripple_bound')).toBeCloseTo(voltage / (6 * 2000 * 100e-6), 3);
      // Half the frequency, twice the ripple.
      expect(value(plant, 'F1.ripple_current') / value(untouched(), 'F1.ripple_current')).toBeCloseTo(2, 1);
    }
  });
});
