// The point of a value in words: which coordinates it has, and whose state of charge it is.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { sound } from '../../kit/checks.ts';
import { twoChoppers, within, withTwoChoppers } from '../../kit/choppers.ts';
import { type Analysed, analysed, edited, valueAt } from '../../kit/plants.ts';

/** What all points of a value say of one coordinate, each once, in order. */
function said({ analysis }: Analysed, name: string, of: 'soc' | 'voltage' | 'direction' | 'duty' | 'case', where = {}) {
  const points = analysis.values.all(name).map(({ point }) => point);
  expect(points).not.toEqual([]);
  const wanted = points.filter(point => Object.entries(where).every(([key, value]) => point[key as never] === value));
  return [...new Set(wanted.map(point => point[of]))].sort();
}

describe('a point', () => {
  it('has the coordinates that its value varies with, and no others', () => {
    const plant = sound();
    expect(said(plant, 'K1.voltage_reserve', 'voltage')).toEqual(['high', 'low', 'nominal']);
    expect(said(plant, 'K1.voltage_reserve', 'direction')).toEqual(['absorbing', 'delivering']);
    expect(said(plant, 'K1.voltage_reserve', 'soc')).toEqual([0.1, 0.9]);
    expect(said(plant, 'K1.voltage_reserve', 'duty')).toEqual(['braking', 'start_peak']);
    expect(said(plant, 'K1.voltage_reserve', 'case')).toEqual([undefined]);
    for (const of of ['voltage', 'direction', 'soc', 'duty'] as const)
      expect(said(plant, 'T1.series_resistance', of)).toEqual([undefined]);
  });

  it('tells the case that it belongs to', () => {
    const plant = analysed(`${soundExample}\ncase worn { B1.state_of_health = 80 % }`);
    expect(said(plant, 'K1.voltage_reserve', 'case')).toEqual(['worn', undefined]);
  });
});

describe('the state of charge', () => {
  const other = ['soc = 10 % .. 90 %', 'soc = 20 % .. 80 %'] as const;

  it('is an end of the span of the battery', () => {
    for (const name of ['B1.string_current', 'K1.voltage_reserve', 'braking.efficiency'])
      expect(said(sound(other), name, 'soc')).toEqual([0.2, 0.8]);
    const point = { duty: 'braking', voltage: 'nominal', direction: 'delivering' } as const;
    const reserveAt = (soc: number) => valueAt(sound(other), 'K1.voltage_reserve', { ...point, soc });
    expect(reserveAt(0.2)).toBeLessThan(reserveAt(0.8));
  });

  it('is that of the duty where it states a span of its own', () => {
    const plant = sound(['for 45 min,', 'for 45 min, soc = 30 % .. 70 %,']);
    for (const name of ['B1.string_current', 'K1.voltage_reserve']) {
      expect(said(plant, name, 'soc', { duty: 'start_peak' })).toEqual([0.3, 0.7]);
      expect(said(plant, name, 'soc', { duty: 'braking' })).toEqual([0.1, 0.9]);
    }
    expect(said(plant, 'start_peak.efficiency', 'soc')).toEqual([0.3, 0.7]);
    expect(said(plant, 'braking.efficiency', 'soc')).toEqual([0.1, 0.9]);
  });

  it('is that of the case where it states another', () => {
    const plant = analysed(`${soundExample}\ncase deep { B1.soc = 5 % .. 95 %, start_peak.soc = 6 % .. 60 % }`);
    expect(said(plant, 'K1.voltage_reserve', 'soc', { case: 'deep', duty: 'braking' })).toEqual([0.05, 0.95]);
    expect(said(plant, 'K1.voltage_reserve', 'soc', { case: 'deep', duty: 'start_peak' })).toEqual([0.06, 0.6]);
    expect(said(plant, 'K1.voltage_reserve', 'soc', { case: undefined })).toEqual([0.1, 0.9]);
  });

  it('is that of the battery behind each converter, and of the first where it could be any', () => {
    const plant = analysed(withSecondLine);
    expect(said(plant, 'K1.voltage_reserve', 'soc')).toEqual([0.1, 0.9]);
    expect(said(plant, 'K2.voltage_reserve', 'soc')).toEqual([0.2, 0.8]);
    expect(said(plant, 'B2.string_current', 'soc')).toEqual([0.2, 0.8]);
    expect(said(plant, 'braking.efficiency', 'soc')).toEqual([0.1, 0.9]);
  });

  it('is that of the battery behind each of several choppers', () => {
    const plant = withTwoChoppers(within('battery B2', ...other));
    expect(twoChoppers).toContain('battery B2 {');
    expect(said(plant, 'B1.string_current', 'soc')).toEqual([0.1, 0.9]);
    expect(said(plant, 'B2.string_current', 'soc')).toEqual([0.2, 0.8]);
    expect(said(plant, 'Q1.loss', 'soc')).toEqual([0.1, 0.9]);
    expect(said(plant, 'Q2.loss', 'soc')).toEqual([0.2, 0.8]);
  });

  it('is none where nothing has one', () => {
    const plant = sound(['\n  soc = 10 % .. 90 %', '']);
    expect(said(plant, 'K1.voltage_reserve', 'soc')).toEqual([undefined]);
  });
});

/** The sound plant with a second transformer, filter, converter and battery, the latter used over a narrower span. */
const withSecondLine = (() => {
  const [from, to] = [soundExample.indexOf('transformer T1'), soundExample.indexOf('connect MAIN')];
  const again = soundExample
    .slice(from, to)
    .replaceAll(/\b([TFKB])1\b/g, '$12')
    .replace('10 % .. 90 %', '20 % .. 80 %');
  const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
  return edited(soundExample, [chain, `${chain}\n\n${again}${chain.replaceAll('1', '2')}`]);
})();
