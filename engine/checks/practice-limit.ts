// A limit of the practice, as checks compare values with it and as findings tell of it.
import { exemplars } from '../../grammar/exemplars.ts';
import type { JudgedNumber, RelatedPlace } from '../finding.ts';
import type { Fact } from '../model/plant.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';

/** Limits are asked for far more often than something is said of them: only then are name and number written out. */
export class PracticeLimit implements JudgedNumber {
  readonly number: number;
  readonly fact: Fact | undefined;
  private readonly practice: string;
  private readonly property: string;

  constructor(practice: string, property: string, fact: Fact | undefined) {
    this.practice = practice;
    this.property = property;
    this.fact = fact;
    this.number = fact?.value.type === 'number' ? fact.value.nominal : Number.NaN;
    exemplars.limit = this;
  }

  get name(): string {
    return `${this.practice}.${this.property}`;
  }

  /** Where a house states it, for the places related to a finding; none for a default. */
  get stated(): readonly RelatedPlace[] {
    return this.fact?.whole === undefined ? [] : [{ place: this.fact.whole, message: 'The house rule.' }];
  }

  get display(): string {
    return show(this.number, this.fact?.value.type === 'number' ? this.fact.value.dimension : dimensions.ratio);
  }
}

/** For a finding. */
export function writtenOut(limit: JudgedNumber | undefined): JudgedNumber | undefined {
  return limit === undefined ? undefined : { name: limit.name, number: limit.number, display: limit.display };
}
