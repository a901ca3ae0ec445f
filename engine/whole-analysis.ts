// The analysis of a text that was judged: most of it at hand, the rest put together for whoever asks.
import type {
  AcceptanceView,
  Analysis,
  OutlineEntry,
  PickedValue,
  RequirementView,
  ValueTable,
  WorkspacePath,
} from './analysis.ts';
import type { Finding } from './finding.ts';
import type { Graph } from './results/graph.ts';

type Late = 'judged' | 'requirements' | 'outline';

/** What few ask for, while an editor analyses at every keystroke: each works it out once. */
export type Later = { readonly [Name in Late]: () => Analysis[Name] };

/** What the next analysis starts from. */
export interface Kept {
  readonly graph: Graph;
  /** Of the candidates that were tried for its picks, by what was chosen: taken over where the facts stay as they were. */
  readonly trials: ReadonlyMap<string, Graph>;
}

/**
 * A class, and no object with getters: each such object has a hidden class of its own, which V8 puts into the old part of
 * the heap, and which holds the getters and all that they see until that part is swept. An edit would leave everything
 * that it made.
 */
export class WholeAnalysis implements Analysis {
  readonly path: WorkspacePath;
  readonly plant: string | undefined;
  readonly files: readonly WorkspacePath[];
  readonly findings: readonly Finding[];
  readonly notChecked: readonly string[];
  readonly values: ValueTable;
  readonly picks: readonly PickedValue[];
  readonly acceptances: readonly AcceptanceView[];
  readonly facts: Analysis['facts'];
  /** Nothing that is shown; undefined for a file of parts. */
  readonly kept: Kept | undefined;
  private readonly later: Later;

  constructor(atHand: Omit<Analysis, Late>, later: Later, kept: Kept | undefined) {
    this.path = atHand.path;
    this.plant = atHand.plant;
    this.files = atHand.files;
    this.findings = atHand.findings;
    this.notChecked = atHand.notChecked;
    this.values = atHand.values;
    this.picks = atHand.picks;
    this.acceptances = atHand.acceptances;
    this.facts = atHand.facts;
    this.kept = kept;
    this.later = later;
    Object.freeze(this);
  }

  get judged(): ReadonlySet<string> {
    return this.later.judged();
  }

  get requirements(): readonly RequirementView[] {
    return this.later.requirements();
  }

  get outline(): readonly OutlineEntry[] {
    return this.later.outline();
  }
}
