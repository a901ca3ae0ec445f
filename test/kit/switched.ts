// A two-level three-phase converter switched in time: exact instants from reference and triangle, no series, no Fourier
// transform on a grid. It knows nothing of the engine and serves to check its closed forms.

export type Injection = 'sine' | 'third_harmonic' | 'space_vector';

/** Angles of the fundamental (rad) between which no leg switches, and the legs' levels, 1 or −1. */
export type Segment = { readonly from: number; readonly to: number; readonly legs: readonly number[] };

export const thirdOfTurn = (2 * Math.PI) / 3;

/** Reference of a leg over half the direct voltage; leg 0 peaks at angle zero. */
export function reference(angle: number, leg: number, index: number, injection: Injection): number {
  const phases = [0, 1, 2].map(each => index * Math.cos(angle - each * thirdOfTurn));
  const common = {
    sine: 0,
    third_harmonic: -(index / 6) * Math.cos(3 * angle),
    space_vector: -(Math.max(...phases) + Math.min(...phases)) / 2,
  };
  return phases[leg]! + common[injection];
}

/**
 * The switched converter over some turns of the fundamental, with `ratio` carrier periods a turn (a whole number over all
 * turns). The triangle is at −1 at angle zero; a leg is up while its reference is above it.
 */
export function switchedSegments(index: number, injection: Injection, ratio: number, turns = 1): Segment[] {
  const instants: { angle: number; leg: number }[] = [];
  for (const leg of [0, 1, 2]) {
    for (let half = 0; half < Math.round(2 * ratio * turns); half++) {
      instants.push({ angle: crossing(half, leg, index, injection, ratio), leg });
    }
  }
  instants.sort((left, right) => left.angle - right.angle);
  const legs = [1, 1, 1];
  const segments: Segment[] = [];
  let from = 0;
  for (const { angle, leg } of [...instants, { angle: 2 * Math.PI * turns, leg: 0 }]) {
    segments.push({ from, to: angle, legs: [...legs] });
    legs[leg]! *= -1;
    from = angle;
  }
  return segments;
}

/** By bisection: within half a carrier period reference and triangle cross once. */
function crossing(half: number, leg: number, index: number, injection: Injection, ratio: number): number {
  const rising = half % 2 === 0 ? 1 : -1;
  let low = (half * Math.PI) / ratio,
    high = ((half + 1) * Math.PI) / ratio;
  for (let step = 0; step < 52; step++) {
    const middle = (low + high) / 2;
    const triangle = rising * (-1 + (2 * (middle * ratio - half * Math.PI)) / Math.PI);
    if (rising * (reference(middle, leg, index, injection) - triangle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Level of leg 0 without its zero sequence. */
export const phaseLevel = ({ legs }: Segment): number => (2 * legs[0]! - legs[1]! - legs[2]!) / 3;
/** Level between leg 0 and leg 1. */
export const lineLevel = ({ legs }: Segment): number => legs[0]! - legs[1]!;

/** Amplitudes of cosine and sine at an order, exact for a broken line of levels. */
export function harmonicOf(
  segments: readonly Segment[],
  order: number,
  level: (segment: Segment) => number,
): { readonly cosine: number; readonly sine: number } {
  let cosine = 0,
    sine = 0;
  for (const segment of segments) {
    const height = level(segment) / order;
    cosine += height * (Math.sin(order * segment.to) - Math.sin(order * segment.from));
    sine -= height * (Math.cos(order * segment.to) - Math.cos(order * segment.from));
  }
  const scale = 2 / segments.at(-1)!.to;
  return { cosine: scale * cosine, sine: scale * sine };
}

/** Root of the mean square of a level. */
export function rmsLevel(segments: readonly Segment[], level: (segment: Segment) => number): number {
  const sum = segments.reduce((total, segment) => total + level(segment) ** 2 * (segment.to - segment.from), 0);
  return Math.sqrt(sum / segments.at(-1)!.to);
}
