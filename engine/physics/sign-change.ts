// Where a function of a positive number changes its sign, on a logarithmic scale.

/**
 * The place between `low` and `high` (both positive, of the argument's unit) at which `of` changes its sign, to about
 * 1e-10 of it: by secants, whose far end counts half as much each time it stays (the Illinois rule), and by halving
 * after a secant that leaves more than half of the way. `of` differs in sign at the two ends, `fromLow` and `fromHigh` are its values there;
 * where it knows no value it counts as negative. Some fifteen calls where halving alone takes thirty-four.
 */
export function signChange(
  [low, fromLow]: readonly [place: number, value: number],
  [high, fromHigh]: readonly [place: number, value: number],
  of: (place: number) => number,
): number {
  let [a, b] = [Math.log(low), Math.log(high)];
  let [fa, fb] = [fromLow, fromHigh];
  let stays = 0;
  let halvesNext = false;
  for (let step = 0; step < 100 && b - a > tolerance; step++) {
    const width = b - a;
    const secant = (a * fb - b * fa) / (fb - fa);
    // Without a value at one end there is no secant.
    const halving: boolean = halvesNext || Number.isNaN(secant);
    // A secant that has come to one end is put a little further in, so that the change comes to lie behind it.
    const middle = halving ? (a + b) / 2 : Math.min(Math.max(secant, a + tolerance / 2), b - tolerance / 2);
    const value = of(Math.exp(middle));
    if (value === 0) return Math.exp(middle);
    if (value > 0 === fb > 0) {
      if (stays === 1) fa /= 2;
      [b, fb, stays] = [middle, value, 1];
    } else {
      if (stays === -1) fb /= 2;
      [a, fa, stays] = [middle, value, -1];
    }
    halvesNext = !halving && b - a > width / 2;
  }
  return Math.exp((a + b) / 2);
}

const tolerance = 1e-10;
