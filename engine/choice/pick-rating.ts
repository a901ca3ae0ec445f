// Preferred ratings for `pick`: the smallest one with which nothing about its component fails.
import type { Finding, Place } from '../finding.ts';
import { type OpenPick, pickKey } from '../model/lowerer.ts';
import { type Component, factIn, type Plant } from '../model/plant.ts';
import { nextPreferredRating } from '../tables/preferred-ratings.ts';

/** One try: the plant with these picks, and its findings before acceptances. */
export interface Trial {
  readonly plant: Plant;
  /** Of the checks that look at one component: cheap, and mostly enough to rule a candidate out. */
  readonly about: (tag: string) => readonly Finding[];
  /** Of all checks. */
  readonly findings: () => readonly Finding[];
}

export interface Picked {
  readonly component: Component;
  readonly open: OpenPick;
  /** SI; undefined where no candidate holds. */
  readonly value: number | undefined;
  /** Why the last candidate failed. */
  readonly why: string | undefined;
}

/** Ratings from 1 kVA to 1 GVA: what is above is no plant of ours. */
const smallest = 1e3;
const largest = 1e9;

/**
 * Picks one after the other, the others meanwhile at the largest rating or at what was picked. A candidate fails on an
 * error about its component, on a failed requirement that reads it, and on the reserve of the house rules; acceptances
 * don't help it.
 */
export function pickRatings(
  open: readonly OpenPick[],
  attempt: (chosen: ReadonlyMap<string, number>) => Trial | undefined,
): { chosen: ReadonlyMap<string, number>; picked: readonly Picked[] } {
  const chosen = new Map<string, number>(open.map(pick => [pickKey(pick.place), largest]));
  const picked: Picked[] = [];
  for (const pick of open) {
    const key = pickKey(pick.place);
    const found = pickOne(pick, rating => attempt(new Map([...chosen, [key, rating]])));
    if (found === undefined) continue;
    picked.push(found);
    if (found.value === undefined) chosen.delete(key);
    else chosen.set(key, found.value);
  }
  return { chosen, picked };
}

function pickOne(open: OpenPick, attempt: (rating: number) => Trial | undefined): Picked | undefined {
  const first = attempt(largest);
  const component = first === undefined ? undefined : ownerOf(first.plant, open.place);
  if (component === undefined) return undefined;
  let why: string | undefined;
  for (
    let rating = nextPreferredRating(lowerBound(first!.plant, component));
    rating !== undefined && rating <= largest;
    rating = nextPreferredRating(rating * 1.01)
  ) {
    const trial = attempt(rating);
    if (trial === undefined) break;
    // Only a candidate about which nothing is found so far is worth what the other checks cost.
    const fails = (finding: Finding): boolean => kills(finding, component);
    const killer = trial.about(component.tag).find(fails) ?? trial.findings().find(fails);
    if (killer === undefined) return { component, open, value: rating, why: undefined };
    why = killer.message;
  }
  return { component, open, value: undefined, why };
}

/** Half of the active power that passes the component: no transformer that holds is smaller. */
function lowerBound(plant: Plant, component: Component): number {
  const part = plant.topology.routes
    .filter(route => route.ac.some(element => element.tag === component.tag))
    .reduce((sum, route) => sum + route.gridShare, 0);
  const powers = plant.cases.flatMap(plantCase =>
    plant.duties
      .flatMap(duty => ['discharge', 'charge'].map(name => factIn(plantCase, duty, name)?.value))
      .map(value => (value?.type === 'number' ? value.nominal : 0)),
  );
  return Math.max(smallest, 0.5 * part * Math.max(0, ...powers));
}

function kills(finding: Finding, component: Component): boolean {
  if (finding.subject !== component.tag) return false;
  return finding.severity === 'error' || finding.code === 'transformer_spare';
}

function ownerOf(plant: Plant, place: Place): Component | undefined {
  return plant.components.find(
    ({ whole }) => whole.path === place.path && whole.start <= place.start && place.end <= whole.end,
  );
}
