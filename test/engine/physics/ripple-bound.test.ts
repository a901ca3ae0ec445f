// The bound of the ripple behind a filter against what it stands for: spectra, the choke's ripple, and both through a ladder.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chokeRipple } from '../../../engine/physics/choke-ripple.ts';
import { capacitorElement, chokeElement, resonanceFrequency } from '../../../engine/physics/filter.ts';
import { carryHarmonics } from '../../../engine/physics/harmonics.ts';
import type { Modulation } from '../../../engine/physics/modulation.ts';
import { rippleAtMost, sidebandAtMost, weighedRippleBound } from '../../../engine/physics/ripple-bound.ts';
import { highestIndex } from '../../../engine/physics/sidebands.ts';
import { pwmSpectrum } from '../../../engine/physics/spectrum.ts';
import { evenly } from '../../kit/evenly.ts';

const modulations: readonly Modulation[] = ['sine', 'third_harmonic', 'space_vector'];
const indices = (modulation: Modulation) =>
  Array.from({ length: 40 }, (_, at) => ((at + 1) / 40) * highestIndex(modulation));

describe('what the bound is made of', () => {
  it.each(modulations)('no ripple of the choke is larger: %s', modulation => {
    const ripples = indices(modulation).map(
      modulationIndex =>
        chokeRipple({ dcVoltage: 1, modulationIndex, modulation, switchingFrequency: 1, inductance: 1 })!.rms,
    );
    expect(Math.max(...ripples)).toBeLessThan(rippleAtMost);
    expect(Math.max(...ripples)).toBeGreaterThan(0.85 * rippleAtMost);
  });

  it.each([42, 80, 81, 240])('no far sideband is larger: %i times the fundamental', ratio => {
    for (const modulationIndex of indices('space_vector')) {
      const converter = {
        dcVoltage: 1,
        modulationIndex,
        modulation: 'space_vector',
        switchingFrequency: 50 * ratio,
      } as const;
      const spectrum = pwmSpectrum({ ...converter, frequency: 50 }, 50 * (ratio - 5), 1e-4);
      expect(spectrum.ok).toBe(true);
      for (const { order, voltage } of spectrum.ok ? spectrum.lines : [])
        expect(voltage).toBeLessThan(sidebandAtMost(ratio - order, ratio));
    }
  });
});

it('the bound of a sideband falls with its distance, and is the same for an order and its mirror below zero', () => {
  for (const ratio of [42, 80, 240]) {
    for (let sideband = 5; sideband < ratio; sideband++) {
      expect(sidebandAtMost(sideband + 1, ratio)).toBeLessThan(sidebandAtMost(sideband, ratio));
      expect(sidebandAtMost(2 * ratio - sideband, ratio)).toBeCloseTo(sidebandAtMost(sideband, ratio), 14);
    }
  }
});

/** √(Σ w(h)·I²) behind the filter: each line of the spectrum through the ladder. */
function carried(given: Given, networkInductance: number, weight: (order: number) => number): number | undefined {
  const { inductance, capacitance, damping, switchingFrequency, modulation, index } = given;
  const spectrum = pwmSpectrum(
    {
      dcVoltage: 700,
      modulationIndex: index * highestIndex(modulation),
      modulation,
      switchingFrequency,
      frequency: 50,
    },
    3.5 * switchingFrequency,
    1e-4,
  );
  if (!spectrum.ok) return undefined;
  const result = carryHarmonics(spectrum.lines, {
    elementsAt: at => [capacitorElement(at, capacitance, damping)!, chokeElement(at, inductance)],
    networkAt: at => ({ resistance: 0, reactance: 2 * Math.PI * at * networkInductance }),
  });
  if (!result.ok) return undefined;
  return Math.sqrt(
    result.lines.reduce((sum, line) => sum + weight(line.frequency / 50) * line.connectionCurrent ** 2, 0),
  );
}

interface Given {
  readonly inductance: number;
  readonly capacitance: number;
  readonly damping: number;
  readonly switchingFrequency: number;
  readonly modulation: Modulation;
  readonly index: number;
}

describe('the bound', () => {
  const some: fc.Arbitrary<Given> = fc.record({
    inductance: evenly(50e-6, 500e-6),
    capacitance: evenly(20e-6, 400e-6),
    damping: fc.oneof(fc.constant(0), evenly(1e-3, 0.2)),
    switchingFrequency: fc.constantFrom(2500, 4000, 8000, 16_000),
    modulation: fc.constantFrom(...modulations),
    index: evenly(0.3, 1),
  });
  const weights = {
    'of a plain sum': () => 1,
    'by order': (order: number) => order,
    'by its square': (order: number) => order * order,
  };

  it.each(Object.entries(weights))('is never below what the spectrum makes, %s', (_, weight) => {
    let close = 0;
    fc.assert(
      fc.property(some, evenly(50e-6, 300e-6), evenly(0, 1), evenly(1, 3), (given, weakest, where, span) => {
        const [strongest, between] = [weakest / span, weakest / span + where * (weakest - weakest / span)];
        const { inductance, capacitance, damping, switchingFrequency, modulation } = given;
        const bound = weighedRippleBound(
          {
            converterInductance: inductance,
            capacitance,
            damping,
            resonanceMin: resonanceFrequency(inductance, weakest, capacitance)!,
            resonanceMax: resonanceFrequency(inductance, strongest, capacitance)!,
          },
          { dcVoltage: 700, switchingFrequency, frequency: 50, modulation },
          weight,
        );
        expect(bound).not.toBeNaN();
        const actual = carried(given, between, weight);
        if (actual === undefined) return;
        expect(actual).toBeLessThanOrEqual(bound);
        if (actual > bound / 5) close++;
      }),
      { numRuns: 300 },
    );
    expect(close).toBeGreaterThan(20);
  });

  it('is infinite where the switching meets the resonance', () => {
    const filter = {
      converterInductance: 100e-6,
      capacitance: 300e-6,
      damping: 60e-3,
      resonanceMin: 1000,
      resonanceMax: 1300,
    };
    const bound = (switchingFrequency: number) =>
      weighedRippleBound(filter, { dcVoltage: 700, switchingFrequency, frequency: 50, modulation: 'sine' }, () => 1);
    expect(bound(1400)).toBe(Number.POSITIVE_INFINITY);
    expect(bound(2000)).toBeLessThan(100);
  });

  const resonant = (modulation: Modulation, sideband: number, damping: number) => {
    const [inductance, networkInductance, switchingFrequency] = [100e-6, 50e-6, 8000];
    const resonance = switchingFrequency - sideband * 50;
    const capacitance = 1.5 / networkInductance / (2 * Math.PI * resonance) ** 2;
    expect(resonanceFrequency(inductance, networkInductance, capacitance)).toBeCloseTo(resonance, 6);
    const bound = weighedRippleBound(
      { converterInductance: inductance, capacitance, damping, resonanceMin: resonance, resonanceMax: resonance },
      { dcVoltage: 700, switchingFrequency, frequency: 50, modulation },
      order => order ** 2,
    );
    const given: Given = { inductance, capacitance, damping, switchingFrequency, modulation, index: 0.9 };
    return { bound, actual: carried(given, networkInductance, order => order ** 2)! };
  };

  it.each([8, 10, 14, 16])('holds the sideband %i orders off that meets the resonance, damped or not', sideband => {
    const { bound, actual } = resonant('space_vector', sideband, 1e-3);
    expect(actual).toBeLessThanOrEqual(bound);
    expect(actual).toBeGreaterThan(bound / 40);
    expect(resonant('space_vector', sideband, 0).bound).toBe(Number.POSITIVE_INFINITY);
  });

  it('is not raised by a resonance among sidebands that the modulation does not make', () => {
    expect(resonant('third_harmonic', 10, 0).bound).toBe(Number.POSITIVE_INFINITY);
    for (const [modulation, sideband] of [
      ['sine', 6],
      ['third_harmonic', 14],
      ['space_vector', 110],
    ] as const) {
      const { bound, actual } = resonant(modulation, sideband, 0);
      expect(actual).toBeLessThanOrEqual(bound);
      expect(bound).toBeLessThan(1e6);
    }
  });
});
