// The outline of what several limits leave of a plane: a ring of points, each with the limit that binds there.

/** Which of the limits is nearest, and by how much it holds (ratio; negative where it is broken). */
export type Nearest<Limit> = { readonly limit: Limit; readonly margin: number };

export type OutlinePoint<Limit> = {
  readonly x: number;
  readonly y: number;
  /** Binds from here to the next point. */
  readonly limit: Limit;
};

export type Outline<Limit> =
  /** Counterclockwise from the positive x axis, corners between two limits included. */
  | { readonly ok: true; readonly points: readonly OutlinePoint<Limit>[] }
  /** Nothing is left, and this limit leaves least. */
  | { readonly ok: false; readonly limit: Limit };

/**
 * Outline within a distance of the origin of a region that is seen as a whole from one of its points: the origin, or
 * where that is outside, the best place on the y axis. Discs and half planes leave such a region. Along each ray the
 * edge is found by bisection, and so are the corners where one limit takes over from another. What no limit closes ends
 * at twice that distance, named after the limit that is nearest there.
 */
export function outlineOf<Limit>(
  nearest: (x: number, y: number) => Nearest<Limit>,
  reach: number,
  rays = 48,
): Outline<Limit> {
  const centre = innerPoint(nearest, reach);
  if (centre.margin < 0) return { ok: false, limit: centre.limit };
  const edgeAt = (angle: number) => edge(nearest, centre.y, angle, 2 * reach);
  const points: OutlinePoint<Limit>[] = [];
  let [angle, here] = [0, edgeAt(0)];
  const first = here;
  for (let ray = 1; ray <= rays; ray++) {
    const next = (2 * Math.PI * ray) / rays;
    const there = ray === rays ? first : edgeAt(next);
    points.push(here);
    for (let guard = 0; here.limit !== there.limit && guard < mostCorners; guard++) {
      const corner = cornerBetween(edgeAt, angle, next, here.limit);
      points.push(corner.point);
      [angle, here] = [corner.angle, corner.point];
    }
    [angle, here] = [next, there];
  }
  return { ok: true, points };
}

/** Limits that may take over from one another between two rays. */
const mostCorners = 4;

function innerPoint<Limit>(nearest: (x: number, y: number) => Nearest<Limit>, reach: number) {
  let best = { y: 0, ...nearest(0, 0) };
  if (best.margin > 0) return best;
  for (let step = -steps; step <= steps; step++) {
    const y = (step / steps) * reach;
    const found = nearest(0, y);
    if (found.margin > best.margin) best = { y, ...found };
  }
  return best;
}

const steps = 60;
const halvings = 44;

function edge<Limit>(
  nearest: (x: number, y: number) => Nearest<Limit>,
  centre: number,
  angle: number,
  reach: number,
): OutlinePoint<Limit> {
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  let [inside, outside] = [0, reach];
  let { limit } = nearest(reach * dx, centre + reach * dy);
  for (let halving = 0; halving < halvings; halving++) {
    const middle = (inside + outside) / 2;
    const found = nearest(middle * dx, centre + middle * dy);
    if (found.margin >= 0) inside = middle;
    else [outside, limit] = [middle, found.limit];
  }
  return { x: inside * dx, y: centre + inside * dy, limit };
}

/** Where a limit that binds at the first angle ceases to, with the one that takes over. */
function cornerBetween<Limit>(
  edgeAt: (angle: number) => OutlinePoint<Limit>,
  from: number,
  to: number,
  limit: Limit,
): { readonly angle: number; readonly point: OutlinePoint<Limit> } {
  let [low, high] = [from, to];
  let point = edgeAt(to);
  for (let halving = 0; halving < 24; halving++) {
    const middle = (low + high) / 2;
    const found = edgeAt(middle);
    if (found.limit === limit) low = middle;
    else [high, point] = [middle, found];
  }
  return { angle: high, point };
}
