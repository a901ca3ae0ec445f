// The list of all kinds of the language: add a kind by its file and one line here.
import { battery } from './battery.ts';
import { bus } from './bus.ts';
import { cable } from './cable.ts';
import { chopper } from './chopper.ts';
import { converter } from './converter.ts';
import { duty } from './duty.ts';
import { filter } from './filter.ts';
import { fuse } from './fuse.ts';
import { grid } from './grid.ts';
import type { Kind, Property } from './kind.ts';
import { plant } from './plant.ts';
import { practice } from './practice.ts';
import { transformer } from './transformer.ts';

/** In the order in which a plant is usually written. */
export const kinds: readonly Kind[] = [
  plant,
  grid,
  bus,
  cable,
  transformer,
  filter,
  converter,
  chopper,
  battery,
  fuse,
  duty,
  practice,
];

/** Looks a kind up by the word that the author wrote. */
export const kindByName: ReadonlyMap<string, Kind> = new Map(kinds.map(kind => [kind.name, kind]));

const propertiesByKind: ReadonlyMap<Kind, ReadonlyMap<string, Property>> = new Map(
  kinds.map(kind => [kind, new Map(kind.properties.map(property => [property.name, property]))]),
);

/** The property of that exact name, or undefined where the kind has none. */
export function propertyOf(kind: Kind, name: string): Property | undefined {
  return propertiesByKind.get(kind)?.get(name);
}
