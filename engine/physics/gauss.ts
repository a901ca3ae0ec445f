// Points and weights of Gauss–Legendre quadrature, and the sums of a function over panels.

/**
 * Five points on −1…1: the roots of the Legendre polynomial of degree five, ±⅓·√(5 ± 2·√(10/7)) and 0, and their
 * weights (322 ± 13·√70)/900 and 128/225 (closed forms from memory; a test integrates polynomials of degree nine).
 */
export const gaussPoints = [-1, -1, 0, 1, 1].map((sign, index) => {
  const inner = index === 1 || index === 3 ? -1 : 1;
  return (sign / 3) * Math.sqrt(5 + inner * 2 * Math.sqrt(10 / 7));
});

export const gaussWeights = [-1, 1, 0, 1, -1].map(sign =>
  sign === 0 ? 128 / 225 : (322 + sign * 13 * Math.sqrt(70)) / 900,
);

/** Calls `each` with the points and weights of a stretch cut into panels no wider than `widest`. */
export function overPanels(
  from: number,
  to: number,
  widest: number,
  each: (point: number, weight: number) => void,
): void {
  const panels = Math.max(1, Math.ceil((to - from) / widest));
  const half = (to - from) / panels / 2;
  for (let panel = 0; panel < panels; panel++) {
    const middle = from + (2 * panel + 1) * half;
    for (let index = 0; index < gaussPoints.length; index++) {
      each(middle + half * gaussPoints[index]!, half * gaussWeights[index]!);
    }
  }
}
