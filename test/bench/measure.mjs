// Medians, percentiles, and turns: whatever is compared is measured in alternation, so that a slow minute hits all.

export function percentile(values, share) {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
}

export const median = values => percentile(values, 0.5);

/** Lets everyone have a turn in each round, in an order that rotates; gathers what the turns hand back, by name. */
export async function takeTurns(rounds, actors, turn) {
  const gathered = new Map(actors.map(({ name }) => [name, []]));
  for (let round = 0; round < rounds; round++) {
    for (let index = 0; index < actors.length; index++) {
      const actor = actors[(index + round) % actors.length];
      gathered.get(actor.name).push(await turn(actor, round));
    }
  }
  return gathered;
}

/** Repeats an act as often as wanted, or as the time allows; at least once. */
export async function repeat(count, milliseconds, act) {
  const results = [];
  const end = performance.now() + milliseconds;
  while (results.length === 0 || (results.length < count && performance.now() < end)) results.push(await act());
  return results;
}

/** Time of a synchronous piece of work in milliseconds, the median of several. */
export function timeOf(count, work) {
  const times = [];
  for (let index = 0; index < count; index++) {
    const before = performance.now();
    work();
    times.push(performance.now() - before);
  }
  return median(times);
}
