// Harmonics of naturally sampled sine-triangle modulation, in the form of the textbook by Mohan, Undeland and Robbins.
// Every figure was worked out from Bessel functions and from a transform of 2^20 points of the switched waveform at 39
// carriers a period, apart from this code; the book's printed table itself wasn't read.

import { sidebandAmplitude, sidebandCoefficients } from '../../engine/physics/sidebands.ts';
import { modulationIndexFor, pwmDistortion, pwmSpectrum, totalPwmVoltage } from '../../engine/physics/spectrum.ts';
import { type ReferenceCase, referenceTests } from '../kit/reference.ts';
import { solved } from '../kit/solved.ts';
import { harmonicOf, lineLevel, switchedSegments } from '../kit/switched.ts';

const given = (
  name: string,
  source: string,
  actual: () => number | undefined,
  expected: number,
  tolerance: number,
): ReferenceCase => ({
  name,
  source,
  evidence: 'recomputed independently',
  actual,
  expected,
  tolerance,
  absolute: true,
});

// Half a digit of the last place, and what the two ways of working them out may differ by.
const lastPlace = 6e-4;

const legSource = 'Mohan, Undeland, Robbins, Power Electronics, ch. 8 (form of Table 8-1)';
type Sideband = readonly [multiple: number, sideband: number];
const legColumns: readonly Sideband[] = [
  [1, 0],
  [1, 2],
  [1, 4],
  [2, 1],
  [2, 3],
  [2, 5],
  [3, 0],
  [3, 2],
  [3, 4],
  [3, 6],
  [4, 1],
  [4, 3],
];
/** Leg voltage over half the direct voltage, by modulation index. */
const legRows: readonly (readonly [index: number, amplitudes: readonly number[]])[] = [
  [0.2, [1.242, 0.016, 0, 0.19, 0.003, 0, 0.335, 0.044, 0.001, 0, 0.163, 0.012]],
  [0.4, [1.151, 0.061, 0.001, 0.326, 0.024, 0, 0.123, 0.139, 0.012, 0, 0.157, 0.07]],
  [0.6, [1.006, 0.131, 0.003, 0.37, 0.071, 0.003, 0.083, 0.203, 0.047, 0.004, 0.008, 0.132]],
  [0.8, [0.818, 0.22, 0.008, 0.314, 0.139, 0.013, 0.171, 0.176, 0.104, 0.016, 0.105, 0.115]],
  [1, [0.601, 0.318, 0.018, 0.181, 0.212, 0.033, 0.113, 0.062, 0.157, 0.044, 0.068, 0.009]],
];

const legAmplitude = (index: number, multiple: number, sideband: number): number =>
  Math.abs(sidebandAmplitude(sidebandCoefficients('sine', index, multiple, 10), multiple, sideband));

referenceTests(
  'one leg',
  legRows.flatMap(([index, amplitudes]) =>
    amplitudes.flatMap((expected, column) => {
      const [multiple, sideband] = legColumns[column]!;
      return (sideband === 0 ? [0] : [sideband, -sideband]).map(side =>
        given(
          `M = ${index}: ${multiple} carriers ${side < 0 ? '−' : '+'} ${sideband}`,
          legSource,
          () => legAmplitude(index, multiple, side),
          expected,
          lastPlace,
        ),
      );
    }),
  ),
);

// The fundamental of a leg is the modulation index itself: the line voltage that it makes gives it back.
referenceTests(
  "one leg's fundamental",
  legRows.map(([index]) =>
    given(`M = ${index}`, legSource, () => modulationIndexFor(lineAmplitude(index, 0, 1), 1), index, lastPlace),
  ),
);

const lineSource = 'Mohan, Undeland, Robbins, Power Electronics, ch. 8 (form of Table 8-2)';
const lineColumns: readonly Sideband[] = [
  [0, 1],
  [1, 2],
  [1, 4],
  [2, 1],
  [2, 5],
  [3, 2],
  [3, 4],
];
/** Line-to-line rms over the direct voltage, by modulation index. */
const lineRows: readonly (readonly [index: number, voltages: readonly number[]])[] = [
  [0.2, [0.122, 0.01, 0, 0.117, 0, 0.027, 0.001]],
  [0.4, [0.245, 0.037, 0, 0.2, 0, 0.085, 0.007]],
  [0.6, [0.367, 0.08, 0.002, 0.227, 0.002, 0.125, 0.029]],
  [0.8, [0.49, 0.135, 0.005, 0.193, 0.008, 0.108, 0.064]],
  [1, [0.612, 0.195, 0.011, 0.111, 0.02, 0.038, 0.096]],
];
const carriers = 201;

/** From the whole spectrum; zero where no line is listed. */
function lineAmplitude(index: number, multiple: number, sideband: number): number {
  const converter = {
    dcVoltage: 1,
    modulationIndex: index,
    modulation: 'sine',
    switchingFrequency: carriers * 50,
    frequency: 50,
  } as const;
  const { fundamental, lines } = solved(pwmSpectrum(converter, 4 * carriers * 50));
  if (multiple === 0) return fundamental;
  return lines.find(({ order }) => order === multiple * carriers + sideband)?.voltage ?? 0;
}

referenceTests(
  'between the lines',
  lineRows.flatMap(([index, voltages]) =>
    voltages.flatMap((expected, column) => {
      const [multiple, sideband] = lineColumns[column]!;
      return (multiple === 0 ? [sideband] : [sideband, -sideband]).map(side =>
        given(
          multiple === 0
            ? `M = ${index}: fundamental`
            : `M = ${index}: ${multiple} carriers ${side < 0 ? '−' : '+'} ${sideband}`,
          lineSource,
          () => lineAmplitude(index, multiple, side),
          expected,
          lastPlace,
        ),
      );
    }),
  ),
);

// The table's figures once more from a converter switched in time, whose harmonics are integrated exactly.
referenceTests(
  'between the lines, switched in time',
  lineRows.flatMap(([index, voltages]) => {
    const segments = switchedSegments(index, 'sine', 39);
    return voltages.map((expected, column) => {
      const [multiple, sideband] = lineColumns[column]!;
      const { cosine, sine } = harmonicOf(segments, multiple * 39 + sideband, lineLevel);
      const measured = Math.hypot(cosine, sine) / (2 * Math.SQRT2);
      return given(
        `M = ${index}: ${multiple} carriers + ${sideband}, measured ${measured.toFixed(4)}`,
        lineSource,
        () => (Math.abs(measured - expected) < lastPlace ? lineAmplitude(index, multiple, sideband) : undefined),
        measured,
        2e-5,
      );
    });
  }),
);

// Total rms over the direct voltage and unfiltered distortion, transform of the switched waveform.
const totalSource = 'transform of the switched waveform, 39 carriers a period or more';
const totals: readonly (readonly [index: number, rms: number, distortion: number])[] = [
  [0.8, 0.66396, 0.915],
  [1, 0.74254, 0.686],
  [1.1547, 0.79789, 0.523],
];
referenceTests(
  'totals',
  totals.flatMap(([index, rms, distortion]) => [
    given(`M = ${index}: total rms`, totalSource, () => totalPwmVoltage(1, index), rms, 1e-3),
    given(`M = ${index}: distortion`, totalSource, () => pwmDistortion(index), distortion, 1e-3),
  ]),
);
