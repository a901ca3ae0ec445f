// Which routes pass a component.
import { directElements, type Route } from '../model/topology.ts';

/** Texts of the same connections share their routes. */
const known = new WeakMap<readonly Route[], ReadonlyMap<string, readonly Route[]>>();

/** By the tag of what they pass, their ends included, in the order of the routes. */
export function routesByTag(routes: readonly Route[]): ReadonlyMap<string, readonly Route[]> {
  const passing = known.get(routes) ?? sortedByTag(routes);
  known.set(routes, passing);
  return passing;
}

function sortedByTag(routes: readonly Route[]): ReadonlyMap<string, readonly Route[]> {
  const byTag = new Map<string, Route[]>();
  for (const route of routes) {
    const passed = [...route.ac, ...directElements(route)].map(element => element.tag);
    for (const tag of [route.converter, route.grid, ...route.batteries, ...passed]) {
      if (tag === undefined) continue;
      const list = byTag.get(tag) ?? [];
      byTag.set(tag, list);
      list.push(route);
    }
  }
  return byTag;
}
