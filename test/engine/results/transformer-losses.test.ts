// The losses of a transformer whose author states none, or a share of a rating that is picked.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { findingsOf, worst } from '../../kit/plants.ts';

const unstated = [
  ['  load_loss = 5.8 kW\n', ''],
  ['  no_load_loss = 800 W\n', ''],
] as const;
const rating = (text: string) => ['rated_power = 500 kVA', `rated_power = ${text}`] as const;
const construction = (word: string) =>
  ['impedance = 6 % ± 10 %', `impedance = 6 % ± 10 %\n  construction = ${word}`] as const;

// Regulation (EU) 548/2014 as amended by 2019/1783, Annex I, tier 2 (seen in source), W; between rows in a straight line.
const rows = [
  ['dry', '630 kVA', 7100, 990],
  ['dry', '500 kVA', 4500 + (100 / 230) * (7100 - 4500), 675 + (100 / 230) * (990 - 675)],
  ['dry', '1000 kVA', 9000, 1395],
  ['liquid', '630 kVA', 4600, 540],
  ['liquid', '750 kVA', 5588.235294, 571.764706],
] as const;

describe('the loss without load', () => {
  const tapped = (tap: string) =>
    sound(['load_loss = 5.8 kW', 'load_loss = 0 W'], ['no_load_loss = 800 W', `no_load_loss = 800 W\n  tap = ${tap}`]);

  // IEC 60076-1, from memory: it is stated at the voltage of the tapping, which goes with its turns; the core sees volts
  // per turn.
  it.each([
    ['-5 %', 0.95],
    ['0 %', 1],
    ['+5 %', 1.05],
  ])('goes with the square of volts per turn at a tapping of %s', (tap, turns) => {
    expect(worst(tapped(tap), 'T1.loss').value).toBeCloseTo(800 * (440 / (400 * turns)) ** 2, 6);
  });
});

describe('losses that nobody states', () => {
  it.each(rows)('%s, %s: the greatest that the regulation permits', (word, text, load, noLoad) => {
    const plant = sound(...unstated, rating(text), construction(word));
    expect(worst(plant, 'T1.rated_load_loss').value).toBeCloseTo(load, 4);
    expect(worst(plant, 'T1.rated_no_load_loss').value).toBeCloseTo(noLoad, 4);
  });

  it('are ten per cent more without load behind an on-load tap changer', () => {
    const plant = sound(...unstated, rating('630 kVA'), construction('dry\n  tap_changer = on_load'));
    expect(worst(plant, 'T1.rated_no_load_loss').value).toBeCloseTo(1.1 * 990, 6);
    expect(worst(plant, 'T1.rated_load_loss').value).toBe(7100);
  });

  it('keep their share of the rating outside the table', () => {
    expect(worst(sound(...unstated, rating('6300 kVA')), 'T1.rated_load_loss').value).toBeCloseTo(44_000, 6);
  });

  it('are told as assumed, with the regulation', () => {
    const note = findingsOf(sound(...unstated), 'assumed_by_tool', 'T1')[0];
    expect(note?.message).toContain('Regulation (EU) 548/2014');
    expect(findingsOf(sound(), 'assumed_by_tool', 'T1')[0]?.message).not.toContain('548/2014');
  });

  it('come with a rating that is picked', () => {
    const plant = sound(...unstated, rating('pick'));
    expect(worst(plant, 'T1.rated_load_loss').value).toBeCloseTo(rows[1][2], 6);
  });
});

describe('losses that are stated', () => {
  it('count as stated, or as a share of the rating', () => {
    expect(worst(sound(), 'T1.rated_load_loss').value).toBe(5800);
    const share = sound(['load_loss = 5.8 kW', 'load_loss = 1.2 %'], rating('pick'));
    expect(worst(share, 'T1.rated_load_loss').value).toBeCloseTo(6000, 6);
  });
});
