// "Did you mean": the one candidate that is clearly nearest to a misspelt word, or nothing.

/** The nearest candidate within two edits (one for short words), when no other is as near. */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  const allowed = word.length <= 4 ? 1 : 2;
  let best: string | undefined;
  let bestDistance = allowed + 1;
  let tie = false;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - word.length) > allowed) continue;
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase(), allowed);
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
      tie = false;
    } else if (distance === bestDistance) tie = true;
  }
  return bestDistance <= allowed && !tie ? best : undefined;
}

/** Insertions, deletions, replacements and swaps of neighbours; anything above the limit counts as limit + 1. */
function editDistance(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const current = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(previous[j]! + 1, current[j - 1]! + 1, previous[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      current.push(cost);
    }
    before = previous;
    previous = current;
  }
  return Math.min(previous[b.length]!, limit + 1);
}
