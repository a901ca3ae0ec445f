// The numbers of the strips of one text: each value of each component under each duty, or under none, has its own.
import type { Component } from '../model/plant.ts';
import { type Definition, placeCount } from './definition.ts';

export class StripNumbers {
  /** One more than the last. */
  readonly count: number;
  private readonly components: readonly Component[];
  private readonly duties: readonly Component[];
  /** The first number of each component, in their order. */
  private readonly starts: readonly number[];
  private readonly startByTag = new Map<string, number>();
  private readonly columnByDuty = new Map<string, number>();

  constructor(components: readonly Component[], duties: readonly Component[]) {
    this.components = components;
    this.duties = duties;
    for (const [index, { tag }] of duties.entries()) this.columnByDuty.set(tag, index + 1);
    let next = 0;
    this.starts = components.map(({ tag, kind }) => {
      const start = next;
      this.startByTag.set(tag, start);
      next += placeCount(kind.name) * this.columns;
      return start;
    });
    this.count = next;
  }

  of(tag: string, definition: Definition, duty: string | undefined): number {
    const column = duty === undefined ? 0 : this.columnByDuty.get(duty)!;
    return this.startByTag.get(tag)! + definition.place * this.columns + column;
  }

  hasDuty(tag: string): boolean {
    return this.columnByDuty.has(tag);
  }

  whose(number: number): { readonly component: Component; readonly duty: Component | undefined } {
    let [at, end] = [0, this.starts.length];
    while (end - at > 1) {
      const middle = (at + end) >> 1;
      if (this.starts[middle]! <= number) at = middle;
      else end = middle;
    }
    const column = (number - this.starts[at]!) % this.columns;
    return { component: this.components[at]!, duty: column === 0 ? undefined : this.duties[column - 1] };
  }

  /** One for each duty, and one without. */
  private get columns(): number {
    return this.duties.length + 1;
  }
}
