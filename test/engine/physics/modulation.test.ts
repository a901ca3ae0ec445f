// The linear range of modulation, measured on the phase references themselves.

import { describe, expect, test } from 'vitest';
import { effectiveModulation, type Modulation, voltageFactor } from '../../../engine/physics/modulation.ts';

const modulations: readonly Modulation[] = ['sine', 'third_harmonic', 'space_vector'];

/** Largest excursion of a phase leg's reference, in halves of the direct voltage, over one period. */
function peakReference(lineVoltage: number, modulation: Modulation): number {
  const amplitude = (lineVoltage * Math.SQRT2) / Math.sqrt(3) / 0.5;
  let peak = 0;
  for (let i = 0; i < 36_000; i++) {
    const angle = (2 * Math.PI * i) / 36_000;
    const phases = [0, 1, 2].map(phase => amplitude * Math.sin(angle - (phase * 2 * Math.PI) / 3));
    const common = {
      sine: 0,
      third_harmonic: (amplitude / 6) * Math.sin(3 * angle),
      space_vector: -(Math.max(...phases) + Math.min(...phases)) / 2,
    };
    peak = Math.max(peak, ...phases.map(phase => Math.abs(phase + common[modulation])));
  }
  return peak;
}

describe.each(modulations)('%s', modulation => {
  test('drives the legs to their rails and no further at its highest voltage', () => {
    expect(peakReference(voltageFactor[modulation], modulation)).toBeCloseTo(1, 6);
  });

  test('is the sine limit where the star point is earthed or loaded', () => {
    expect(effectiveModulation(modulation, 'earthed_or_loaded')).toBe('sine');
    expect(effectiveModulation(modulation, 'floating')).toBe(modulation);
  });
});
