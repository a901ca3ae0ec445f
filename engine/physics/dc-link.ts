// What the switching of a two-level three-phase converter puts on the capacitor of its direct-current link.
import { highestIndex } from './sidebands.ts';

/**
 * Rms current of the link's capacitor (A) for a sinusoidal line current (A rms), modulation index M (phase amplitude over
 * half the direct voltage) and cos φ: I·√(2M·(√3/(4π) + cos²φ·(√3/π − 9M/16))). The battery takes the mean, the
 * capacitor all the rest; how the zero states are shared doesn't matter, so it holds for every modulation in its linear
 * range. The ripple of the line current is neglected. Undefined outside 0…2/√3 and for |cos φ| above 1. Source: Kolar and
 * Round, analytical calculation of the rms current stress on the dc-link capacitor, 2006, from memory.
 */
export function capacitorCurrent(current: number, modulationIndex: number, cosPhi: number): number | undefined {
  if (!(modulationIndex >= 0 && modulationIndex <= greatestIndex && Math.abs(cosPhi) <= 1)) return undefined;
  const root = Math.sqrt(3);
  const square =
    2 * modulationIndex * (root / (4 * Math.PI) + cosPhi * cosPhi * (root / Math.PI - (9 * modulationIndex) / 16));
  // Never below zero in theory; rounding could bring it there.
  return current * Math.sqrt(Math.max(0, square));
}

const greatestIndex = highestIndex('space_vector') * (1 + 1e-9);
