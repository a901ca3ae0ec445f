// A duty's own span of network voltage: every result under load keeps to it, and what is idle doesn't.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { pointsOf } from '../../../engine/results/definition.ts';
import { results } from '../../../engine/results/index.ts';
import { sound } from '../../kit/checks.ts';
import { type Analysed, analysed, type Edit, edited, worst } from '../../kit/plants.ts';

const band = (voltage: string): Edit => ['power_factor = 0.95 }', `power_factor = 0.95, voltage = ${voltage} }`];
/** The same network with the duty's span as its own: the duty's results must be the same ones. */
const network = (tolerance: string): Edit => ['voltage = 400 V ± 10 %', `voltage = 400 V ± ${tolerance}`];

/** All values under the discharge, by name and point. */
function loaded(plant: Analysed): Map<string, number> {
  const found = new Map<string, number>();
  for (const name of plant.analysis.values.names) {
    const [tag, property] = name.split('.');
    const result = results.find(
      each => each.name === property && each.axes.includes('duty') && pointsOf(each).length > 0,
    );
    if (tag === undefined || result === undefined) continue;
    for (const row of plant.analysis.values.all(name)) {
      if (row.point.duty !== 'start_peak' || row.value === undefined) continue;
      const { voltage, soc, direction } = row.point;
      found.set(`${name} ${voltage} ${soc} ${direction}`, row.value);
    }
  }
  return found;
}

describe('a duty that need not hold over the whole band', () => {
  it('is judged inside its own span, in every result under load', () => {
    const narrow = loaded(sound(band('400 V ± 4 %')));
    const same = loaded(sound(network('4 %')));
    expect(narrow.size).toBeGreaterThan(100);
    expect([...narrow.keys()]).toEqual([...same.keys()]);
    for (const [name, value] of narrow) expect(value, name).toBeCloseTo(same.get(name)!, 9);
  });

  it('leaves the other duties, and what stands idle, to the band of the network', () => {
    const plant = sound(band('400 V ± 4 %'));
    const rows = plant.analysis.values.all('K1.current').filter(({ point }) => point.duty === 'braking');
    const before = sound()
      .analysis.values.all('K1.current')
      .filter(({ point }) => point.duty === 'braking');
    expect(rows.map(({ value }) => value)).toEqual(before.map(({ value }) => value));
    expect(worst(plant, 'K1.idle_voltage').value).toBe(worst(sound(), 'K1.idle_voltage').value);
    expect(worst(plant, 'K1.blocked_voltage').value).toBe(worst(sound(), 'K1.blocked_voltage').value);
  });

  it('never sees the nominal voltage where its span lies beside it', () => {
    const text = edited(soundExample, band('410 V .. 430 V'));
    const rows = analysed(text).analysis.values.all('MAIN.demand_current');
    const of = (voltage: string) =>
      rows.find(
        ({ point }) => point.duty === 'start_peak' && point.voltage === voltage && point.direction === 'delivering',
      )!.value!;
    // 400 kW at 0.95, at the connection point: S/(√3·U).
    for (const [corner, volts] of [
      ['low', 410],
      ['nominal', 410],
      ['high', 430],
    ] as const)
      expect(of(corner)).toBeCloseTo(400e3 / 0.95 / Math.sqrt(3) / volts, 6);
  });
});
