// Heating of motors under overload and load cycles: worked examples of a power engineering textbook.

import { cycleFigures } from '../../engine/physics/overload.ts';
import { approach, type HeatLaw, relativeHeat } from '../../engine/physics/thermal.ts';
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
/** Rise over that of lasting rated load, after a time from cold. */
const rise = (ratio: number, time: number, timeConstant: number, law?: HeatLaw) =>
  approach(0, relativeHeat(ratio, law)!, time, timeConstant);
const ramp = Array.from({ length: 2000 }, (_, index) => ({
  ratio: (200 * (index + 0.5)) / 2000,
  duration: (5 * minute) / 2000,
}));

referenceTests('load cycles of motors', [
  example('1.23', '706', {
    name: 'half-hour rating over the continuous one, 2.4338: rise after half an hour; 100 min, best efficiency at 85 %',
    actual: () => rise(2.43380663, 30 * minute, 100 * minute, maximumAt85),
    expected: 1,
    tolerance: 1e-8,
  }),
  example('1.24', '706', {
    name: 'twice the rating, constant loss like copper loss at full load, 100 min: rise after 51.08 min',
    actual: () => rise(2, 51.0825624 * minute, 100 * minute, { standing: 0.5 }),
    expected: 1,
    tolerance: 1e-8,
  }),
  example('1.25', '706', {
    name: 'rise (K) at 25.82 kW after one hour of a 20 kW motor that reaches 30 K in one hour and 40 K in two',
    // (40 − 30)/30 = 1/3 = e^(−1 h/T), settled rise 45 K.
    actual: () => 45 * rise(25.819889 / 20, 3600, 3600 / Math.log(3)),
    expected: 50,
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
