// The preferred ratings of transformers: the R10 series of preferred numbers.

import type { Citation } from './evidence.ts';

export const preferredRatingSource: Citation = {
  source: 'ISO 3, series R10, as IEC 60076-1 takes it for rated powers',
  evidence: 'from memory',
};

export const preferredNumbers: readonly number[] = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8];

/** Slack for a rating that equals a preferred one but for rounding. */
const slack = 1 + 1e-9;

/** Smallest preferred rating (VA) that isn't below the required one; undefined unless the required one is above zero. */
export function nextPreferredRating(required: number): number | undefined {
  if (!(required > 0 && Number.isFinite(required))) return undefined;
  const exponent = Math.floor(Math.log10(required));
  for (let decade = exponent - 1; decade <= exponent + 1; decade++) {
    for (const number of preferredNumbers) {
      const rating = scaled(number, decade);
      if (rating * slack >= required) return rating;
    }
  }
  return undefined;
}

/** Largest preferred rating (VA) below the given one. */
export function previousPreferredRating(rating: number): number | undefined {
  if (!(rating > 0 && Number.isFinite(rating))) return undefined;
  const exponent = Math.floor(Math.log10(rating));
  for (let decade = exponent + 1; decade >= exponent - 1; decade--) {
    for (const number of preferredNumbers.toReversed()) {
      const candidate = scaled(number, decade);
      if (candidate * slack < rating) return candidate;
    }
  }
  return undefined;
}

/** Whole numbers where there are any, so that 315 kVA is exactly 315000. */
const scaled = (number: number, decade: number): number =>
  decade >= 2 ? Math.round(number * 100) * 10 ** (decade - 2) : number * 10 ** decade;
