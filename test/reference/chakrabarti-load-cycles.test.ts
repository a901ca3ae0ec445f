// Heating of motors under overload and load cycles: worked examples of a power engineering textbook.

import { cycleFigures } from '../../engine/physics/overload.ts';
import { lastsFor, ratioLasting } from '../../engine/physics/thermal.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';

// Seen as worked solutions in FOSSEE/Scilab-TBC-Uploads, 3472/CH39; the book itself was not opened.
const book = 'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, 2nd ed.';
const evidence = 'inputs seen in source, result recomputed independently';
const example = (number: string, page: string, rest: Omit<ReferenceCase, 'source' | 'evidence'>): ReferenceCase => ({
  ...rest,
  source: `${book}, Ex. ${number}, p. ${page}`,
  evidence,
});

/** Constant loss equal to the copper loss at 0.85 of the load. */
const maximumAt85 = { standing: 1 / (1 + 1 / 0.85 ** 2) };
const minute = 60;
const ramp = Array.from({ length: 2000 }, (_, index) => ({
  ratio: (200 * (index + 0.5)) / 2000,
  duration: (5 * minute) / 2000,
}));

referenceTests('load cycles of motors', [
  example('1.23', '706', {
    name: 'half-hour rating over the continuous one: 40 K rise, 100 min, best efficiency at 85 %',
    actual: () => ratioLasting(30 * minute, { preload: 'cold', timeConstant: 100 * minute, heat: maximumAt85 }),
    expected: 2.43380663,
    tolerance: 1e-8,
  }),
  example('1.24', '706', {
    name: 'twice the rating, constant loss like copper loss at full load, 100 min: minutes',
    actual: () => lastsFor(2, { preload: 'cold', timeConstant: 100 * minute, heat: { standing: 0.5 } })! / minute,
    expected: 51.0825624,
    tolerance: 1e-8,
  }),
  example('1.25', '706', {
    name: 'kW for one hour to 50 K of a 20 kW motor that reaches 30 K in one hour and 40 K in two',
    // (40 − 30)/30 = 1/3 = e^(−1 h/T), settled rise 45 K.
    actual: () => 20 * ratioLasting(3600, { preload: 'cold', timeConstant: 3600 / Math.log(3), limit: 50 / 45 })!,
    expected: 25.819889,
    tolerance: 1e-8,
  }),
  example('1.26', '707', {
    name: 'rms of 100 hp 10 min, none 5 min, 60 hp 8 min, none 4 min',
    actual: () =>
      solved(
        cycleFigures([
          { ratio: 100, duration: 10 * minute },
          { ratio: 0, duration: 5 * minute },
          { ratio: 60, duration: 8 * minute },
          { ratio: 0, duration: 4 * minute },
        ]),
      ).rms,
    expected: 69.0678679,
    tolerance: 1e-8,
  }),
  example('1.27', '708', {
    name: 'rms of a rise to 200 hp in 5 min, 100 hp 10 min, none 3 min; the rise in 2000 steps',
    actual: () =>
      solved(cycleFigures([...ramp, { ratio: 100, duration: 10 * minute }, { ratio: 0, duration: 3 * minute }])).rms,
    expected: 96.2250449,
    tolerance: 1e-7,
  }),
]);
