// The worst of a value is the worst of all its rows, also where bounds leave most of them aside.
import { describe, expect, it } from 'vitest';
import type { ValueRow, ValueTable } from '../../../engine/analysis.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { ownChopperPlants } from '../../kit/chopper-plants.ts';
import { filesOfDesign } from '../../kit/plant-design.ts';
import { analysed, edited } from '../../kit/plants.ts';
import { soundPlants } from '../../kit/sound-plants.ts';
import { tiedPlants } from '../../kit/tied-plants.ts';

/** The first of the worst, in the order of cases, duties and points. */
function worstOf(rows: readonly ValueRow[]): ValueRow | undefined {
  return rows.reduce<ValueRow | undefined>((worst, row) => {
    if (row.value === undefined) return worst;
    if (worst?.value === undefined) return row;
    return (row.worst === 'highest' ? row.value > worst.value : row.value < worst.value) ? row : worst;
  }, undefined);
}

function expectWorst(values: ValueTable, names: readonly string[]): void {
  for (const name of names) {
    const [found, expected] = [values.worst(name), worstOf(values.all(name))];
    expect([found?.value, expected === undefined ? undefined : found?.point], name).toEqual([
      expected?.value,
      expected?.point,
    ]);
  }
}

const cases = `
case cold { B1.temperature = 5 °C }
case worn { B1.state_of_health = 80 % }
case same { B1.temperature = 20 °C }
case fewer { B1.strings = 2 }
`;

describe('worst and all', () => {
  const more = `
duty twice { discharge = 400 kW for 45 min, power_factor = 0.95 }
duty longest { discharge = 150 kW for 2 h, soc = 20 % .. 60 % }
duty night { charge = 120 kW for 2 h }
duty again { discharge = 400 kW for 45 min, power_factor = 0.95 }
${cases}`;

  it('of the sound example, with cases and with duties that ask the same', () => {
    const { values } = analysed(soundExample + more).analysis;
    expect(values.worst('B1.discharge_time')?.point).toMatchObject({ case: 'fewer', duty: 'start_peak' });
    expectWorst(values, values.names);
  });

  it('where a limit ends a discharge before its bound', () => {
    const tight = edited(soundExample, ['discharge_current = 280 A', 'discharge_current = 165 A']);
    const { values } = analysed(tight + more).analysis;
    expect(values.worst('B1.discharge_time')?.limit?.name).toBe('discharge_current');
    expectWorst(values, ['B1.discharge_time']);
  });

  it('where a duty can’t begin in one case, and a later one in none: the first case counts', () => {
    const none = `duty night { discharge = 900 kW for 5 min, power_factor = 0.95 }
case last_string { B1.strings = 1 }`;
    const { values } = analysed(`${soundExample}\n${none}`).analysis;
    const rows = values.all('B1.discharge_time').filter(({ value }) => value === 0);
    expect(rows.map(({ point }) => [point.case, point.duty])).toContainEqual(['last_string', 'start_peak']);
    expect(values.worst('B1.discharge_time')).toMatchObject({ value: 0, point: { case: undefined, duty: 'night' } });
    expectWorst(values, ['B1.discharge_time']);
  });

  it('where two duties can’t begin, the later one by more: the first in the text counts', () => {
    const both = ['long { discharge = 900 kW for 5 min }', 'longer { discharge = 1800 kW for 5 min }'];
    for (const [first, second] of [both, both.toReversed()]) {
      const { values } = analysed(`${soundExample}\nduty ${first}\nduty ${second}\n`).analysis;
      const rows = values.all('B1.discharge_time').filter(({ value }) => value === 0);
      expect(new Set(rows.map(({ point }) => point.duty))).toEqual(new Set(['long', 'longer']));
      expect(values.worst('B1.discharge_time')?.point.duty).toBe(first!.split(' ')[0]);
    }
  });

  it.each([
    ['of one battery', soundPlants.slice(0, 40)],
    ['of ties', tiedPlants.slice(0, 40)],
    ['of choppers', ownChopperPlants.slice(0, 40)],
  ])('plants %s: how long their batteries last', (_, plants) => {
    let known = 0;
    for (const { design } of plants) {
      const { values } = analysed(filesOfDesign(design)).analysis;
      const names = values.names.filter(name => name.endsWith('.discharge_time'));
      expectWorst(values, names);
      known += names.filter(name => values.worst(name)?.value !== undefined).length;
    }
    expect(known).toBeGreaterThan(10);
  });
});
