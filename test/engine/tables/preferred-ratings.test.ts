// Preferred ratings are found exactly, above and below, in every decade.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nextPreferredRating, previousPreferredRating } from '../../../engine/tables/preferred-ratings.ts';
import { evenly } from '../../kit/evenly.ts';

test('the next rating up is the rating itself where it is a preferred one', () => {
  expect(nextPreferredRating(500e3)).toBe(500e3);
  expect(nextPreferredRating(500.1e3)).toBe(630e3);
  expect(nextPreferredRating(801e3)).toBe(1000e3);
  expect(nextPreferredRating(314_999.999_999_9)).toBe(315e3);
});

test('the rating before it is a smaller one', () => {
  expect(previousPreferredRating(500e3)).toBe(400e3);
  expect(previousPreferredRating(1000e3)).toBe(800e3);
});

test('no demand, no rating', () => {
  expect(nextPreferredRating(0)).toBeUndefined();
  expect(nextPreferredRating(Number.NaN)).toBeUndefined();
  expect(previousPreferredRating(-1)).toBeUndefined();
});

test('steps are never larger than a ratio of 1.3', () => {
  fc.assert(
    fc.property(evenly(1e3, 1e9), required => {
      const rating = nextPreferredRating(required)!;
      expect(rating).toBeGreaterThanOrEqual(required * (1 - 1e-8));
      expect(rating / required).toBeLessThan(1.3);
    }),
  );
});
