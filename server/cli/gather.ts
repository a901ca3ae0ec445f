// Gathers what the analyses say, file by file, each finding once however many plants share the part it sits in.
import type { AcceptanceView, Analysis, WorkspacePath } from '../../engine/analysis.ts';
import { openPicks } from '../../engine/choice/open-picks.ts';
import type { Finding, Severity } from '../../engine/finding.ts';
import { derivationFacts } from '../derivation-tree.ts';
import { count, identityOf } from '../findings.ts';
import type { fingerprints } from '../fingerprint.ts';
import type { LineIndex } from '../lines.ts';
import type { Loaded, Unreadable } from './load.ts';
import {
  type CheckedFile,
  type CheckReport,
  type Files,
  noWorking,
  type ShownFinding,
  type ShownPlace,
  shownFinding,
  shownPlace,
  type Working,
} from './report.ts';

export interface GatherOptions {
  /** What the output form shows of how a number came about. */
  readonly working: 'none' | 'derivation' | 'steps';
  readonly strict: boolean;
  /** An open pick is an error. */
  readonly settled: boolean;
  /** Makes the marks by which a finding is recognised; left out where no output shows them and no baseline is read. */
  readonly fingerprints: typeof fingerprints | undefined;
  /** Fingerprints of findings that are known and not shown again; hazards are shown all the same. */
  readonly baseline: ReadonlySet<string> | undefined;
}

export interface ShownAcceptance {
  readonly plant: string;
  readonly acceptance: AcceptanceView;
  readonly at: ShownPlace;
}

/** How output names a file, and how it is named from the root of the repository, wherever the command was started. */
export interface FileNames {
  readonly show: Files['show'];
  readonly rooted: Files['show'];
}

export interface Gathering {
  add(loaded: Loaded, names: FileNames): void;
  skip(unreadable: Unreadable, show: Files['show']): void;
  finish(remarks: readonly string[]): CheckReport;
  accepted(): readonly ShownAcceptance[];
}

type Unmarked = Omit<ShownFinding, 'fingerprint'>;

interface FileSoFar {
  readonly rooted: string;
  plant: string | undefined;
  notChecked: readonly string[];
  readonly findings: Map<string, { readonly shown: Unmarked; readonly lines: LineIndex | undefined }>;
}

export function createGathering(options: GatherOptions): Gathering {
  const files = new Map<string, FileSoFar>();
  const acceptances: ShownAcceptance[] = [];
  const unreadable: { path: string; reason: string }[] = [];

  const fileAt = (path: WorkspacePath, { show, rooted }: FileNames): FileSoFar => {
    const file = files.get(show(path)) ?? {
      rooted: rooted(path),
      plant: undefined,
      notChecked: [],
      findings: new Map(),
    };
    files.set(show(path), file);
    return file;
  };

  return {
    add: ({ path, analysis, tried, linesOf }, names) => {
      const { show } = names;
      const own = fileAt(path, names);
      own.plant = analysis.plant;
      own.notChecked = analysis.notChecked;
      const { plant } = analysis;
      for (const acceptance of analysis.acceptances) {
        acceptances.push({ plant: plant ?? '', acceptance, at: shownPlace(acceptance.place, { linesOf, show }) });
      }
      for (const finding of [...analysis.findings, ...(options.settled ? openPicks(analysis) : [])]) {
        const { findings } = fileAt(finding.place.path, names);
        const key = identityOf(finding);
        if (findings.has(key)) continue;
        // What is picked has been judged before it was picked.
        const fixed = analysis.findings.includes(finding) ? tried(finding) : finding;
        const shown = shownFinding(fixed, workingOf(finding, analysis, options.working), { linesOf, show });
        findings.set(key, { shown, lines: linesOf(finding.place.path) });
      }
    },
    skip: ({ path, reason }, show) => void unreadable.push({ path: show(path), reason }),
    finish: remarks => {
      const sorted = [...files].sort(([a], [b]) => (a < b ? -1 : 1));
      const all = sorted.map(([path, file]) => marked(path, file, options));
      const shown = all.map(file => ({ ...file, findings: file.findings.filter(one => !isKnown(one, options)) }));
      const known = sum(all) - sum(shown);
      return {
        files: shown,
        counts: count(shown.flatMap(file => file.findings.map(({ finding }) => finding))),
        strict: options.strict,
        known,
        remarks: [...remarks, ...(options.baseline === undefined ? [] : [knownRemark(known)])],
        unreadable,
      };
    },
    accepted: () => acceptances,
  };
}

/** The places and messages of the steps are bounded: a path through a plant has dozens of facts. */
const mostSteps = 100;

const order: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2, hint: 3 };

/** Hazards first, then by severity; among equals the order of the files and the text. */
export function byWeight(report: CheckReport): readonly ShownFinding[] {
  const weight = ({ finding }: ShownFinding): number => (finding.hazard ? -1 : order[finding.severity]);
  return report.files.flatMap(file => file.findings).sort((a, b) => weight(a) - weight(b));
}

function workingOf({ value, point }: Finding, analysis: Analysis, working: GatherOptions['working']): Working {
  if (value?.name === undefined || working === 'none') return noWorking;
  const key = { name: value.name, point };
  if (working === 'derivation') return { derivation: analysis.values.explain(key), steps: [] };
  const steps = derivationFacts(key, analysis, mostSteps).map(({ place, name, display, provenance }) => {
    return { ...place, message: `${name} = ${display}${provenance === undefined ? '' : ` (${provenance})`}` };
  });
  return { derivation: analysis.values.explain(key), steps };
}

function marked(path: string, file: FileSoFar, options: GatherOptions): CheckedFile {
  const found = [...file.findings.values()];
  const marks = options.fingerprints?.(
    found.map(({ shown, lines }) => ({ finding: shown.finding, path: file.rooted, lines })),
  );
  const findings = found.map(({ shown }, index) => ({ ...shown, fingerprint: marks?.[index] ?? '' }));
  return { path, plant: file.plant, notChecked: file.notChecked, findings };
}

function isKnown({ finding, fingerprint }: ShownFinding, { baseline }: GatherOptions): boolean {
  return baseline?.has(fingerprint) === true && !finding.hazard;
}

function sum(files: readonly CheckedFile[]): number {
  return files.reduce((total, { findings }) => total + findings.length, 0);
}

function knownRemark(known: number): string {
  const counted = known === 1 ? 'One finding is' : `${known} findings are`;
  return `${counted} in the baseline and not shown again; hazards are always shown.`;
}
