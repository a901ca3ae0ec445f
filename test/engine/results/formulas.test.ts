// Values that are formulas of others agree with these at every point, however the plant is arranged and whoever asks first.
import { describe, expect, it } from 'vitest';
import { chopperPlants, ownChopperPlants } from '../../kit/chopper-plants.ts';
import { filesOfDesign } from '../../kit/plant-design.ts';
import { type Analysed, analysed, laidOut, reader } from '../../kit/plants.ts';
import { soundPlants } from '../../kit/sound-plants.ts';
import { tiedPlants } from '../../kit/tied-plants.ts';

type By = (...sources: readonly number[]) => number;

/** A value, what it is made from, of the same component, and how. */
const formulas: readonly (readonly [name: string, sources: readonly string[], by: By])[] = [
  ['K1.voltage_available', ['K1.modulation_factor', 'K1.dc_voltage'], (factor, direct) => factor! * direct!],
  ['K1.voltage_reserve', ['K1.voltage_available', 'K1.terminal_voltage'], (most, needed) => most! / needed! - 1],
  ['K1.loading', ['K1.current', 'K1.rated_current'], (amperes, rated) => amperes! / rated!],
  ['B1.string_reserve', ['B1.string_current_limit', 'B1.string_current'], (limit, amperes) => limit! - amperes!],
  ['B1.voltage_max', ['B1.voltage_min'], volts => volts!],
];

const plants = [
  ['one line', soundPlants.filter(({ design }) => design.arrangement === 'line' && design.packs === 1)],
  ['several batteries on a converter', soundPlants.filter(({ design }) => design.packs > 1)],
  ['several converters on a battery', soundPlants.filter(({ design }) => design.arrangement === 'one_battery')],
  ['tied units', tiedPlants],
  ['choppers', chopperPlants],
  ['a chopper for each battery', ownChopperPlants],
] as const;

describe.each(plants)('%s', (_, [some]) => {
  const files = filesOfDesign(some!.design);

  it.each(formulas)('%s is its formula of %j', (name, sources, by) => {
    const plant = analysed(files);
    const rows = plant.analysis.values.all(name).filter(({ value }) => value !== undefined);
    expect(rows.length).toBeGreaterThan(0);
    const at = reader(plant);
    for (const { value, point } of rows) {
      const numbers = sources.map(source => at(source, point));
      expect(value, JSON.stringify(point)).toBeCloseTo(by(...numbers), 9);
    }
  });

  it('comes to the same numbers in whatever order they are asked for', () => {
    const names = plantNames(analysed(files));
    const [one, other] = [analysed(files), analysed(files)];
    const forwards = new Map(names.map(name => [name, one.analysis.values.all(name)]));
    for (const name of names.toReversed())
      expect(other.analysis.values.all(name).map(laidOut), name).toEqual(forwards.get(name)!.map(laidOut));
  });
});

function plantNames({ analysis }: Analysed): readonly string[] {
  expect(analysis.values.names.length).toBeGreaterThan(100);
  return analysis.values.names;
}
