// The strips of one text: those that somebody has asked for here, and those that earlier texts have left and that hold.
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';
import type { Reached } from './lineage.ts';
import type { SlabInUse } from './outside-curves.ts';
import { joined, type Strip, underWay, withoutCases } from './strip.ts';

/** By component, then by slot. */
type Strips = readonly (readonly (Strip | undefined)[])[];

export class StripTable {
  private readonly asked: (Strip | undefined)[][];
  /** The slots of the strips that were asked for, so that nobody has to look through the empty ones. */
  private readonly askedSlots: number[][];
  private readonly left: Strips;
  private readonly slotCount: number;

  /** `left`: what an earlier text has left; nobody changes it. */
  constructor(componentCount: number, slotCount: number, left: Strips = []) {
    this.asked = Array.from({ length: componentCount }, () => []);
    this.askedSlots = Array.from({ length: componentCount }, () => []);
    this.slotCount = slotCount;
    this.left = left;
  }

  at(number: number): Strip | undefined {
    const component = Math.floor(number / this.slotCount);
    return this.asked[component]![number - component * this.slotCount];
  }

  leftAt(number: number): Strip | undefined {
    const component = Math.floor(number / this.slotCount);
    return this.left[component]?.[number - component * this.slotCount];
  }

  put(number: number, strip: Strip): Strip {
    const component = Math.floor(number / this.slotCount);
    const slot = number - component * this.slotCount;
    if (this.asked[component]![slot] === undefined) this.askedSlots[component]!.push(slot);
    this.asked[component]![slot] = strip;
    return strip;
  }

  /** A slab that was asked for here; undefined while it is being computed. */
  slab(number: number, caseIndex: number): Slab | undefined {
    const known = this.at(number)?.slabs[caseIndex];
    return known === underWay ? undefined : known;
  }

  /** A slab that was asked for here or that is left. */
  known(number: number, caseIndex: number): Slab | undefined {
    return this.at(number)?.slabs[caseIndex] ?? this.leftAt(number)?.slabs[caseIndex];
  }

  /** A strip with all its cases, asked for here or left. */
  whole(number: number, cases: number): Strip | undefined {
    const own = this.at(number);
    if (own?.filled === cases) return own;
    const left = this.leftAt(number);
    return left?.filled === cases ? left : undefined;
  }

  /** Of which value a strip is that was asked for here or that is left. */
  definition(number: number): Definition {
    return (this.at(number) ?? this.leftAt(number)!).definition;
  }

  *slabs(): Generator<SlabInUse> {
    for (const [component, slots] of this.askedSlots.entries()) {
      for (const slot of slots) {
        const { definition, slabs } = this.asked[component]![slot]!;
        const number = component * this.slotCount + slot;
        for (const [caseIndex, slab] of slabs.entries())
          if (slab !== undefined) yield { number, definition, caseIndex, slab };
      }
    }
  }

  /** What it leaves to the next text: all that no change reaches. With `inCases` the change reaches those cases alone. */
  remainder({ strips }: Reached, inCases: ReadonlySet<number> | undefined, caseCount: number): Strips {
    const own = new Set<number>();
    const rest = this.asked.map((asked, component): (Strip | undefined)[] => {
      const [slots, left] = [this.askedSlots[component]!, this.left[component] ?? []];
      if (slots.length === 0) return left as (Strip | undefined)[];
      own.add(component);
      const both = left.slice();
      for (const slot of slots) both[slot] = joined(asked[slot], left[slot], caseCount);
      return both;
    });
    for (const number of strips) {
      const component = Math.floor(number / this.slotCount);
      const slot = number - component * this.slotCount;
      if (rest[component]![slot] === undefined) continue;
      if (!own.has(component)) rest[component] = rest[component]!.slice();
      own.add(component);
      rest[component]![slot] = inCases === undefined ? undefined : withoutCases(rest[component]![slot], inCases);
    }
    return rest;
  }
}
