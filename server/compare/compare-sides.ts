// Compares the files of two versions, from wherever they are read: pairs them, analyses what differs, and gathers.
import type { Analysis, AnalysisSettings, WorkspacePath } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import { compareVersions } from '../../engine/compare/compare.ts';
import { isWorse } from '../../engine/compare/comparison.ts';
import type { Finding } from '../../engine/finding.ts';
import { isPackagePath, usedPaths } from '../../engine/model/paths.ts';
import { emptyValues } from '../../engine/results/values.ts';
import { count } from '../findings.ts';
import { positionAt } from '../lines.ts';
import type { Closure, Sources } from '../sources.ts';
import { type ComparedFile, isEmpty, type LoneFile, type WorkspaceComparison } from './workspace-comparison.ts';

/** One version of a workspace. */
export interface Side {
  readonly name: string;
  readonly sources: Sources;
  readonly files: readonly WorkspacePath[];
  readonly show: (path: WorkspacePath) => string;
  /** Where an earlier analysis is at hand; without it each file is analysed from nothing. */
  readonly analyse?: typeof analyze;
}

export type Part = Omit<WorkspaceComparison, 'before' | 'after'>;

interface Opened {
  readonly path: WorkspacePath;
  readonly side: Side;
  readonly closure: Closure;
}

/** A file that could be read, analysed when somebody asks for it. */
interface Read extends Opened {
  readonly analysis: () => Analysis;
}

/** `pair`: the two are one file, whatever they are called. */
export async function compareSides(before: Side, after: Side, settings: AnalysisSettings, pair = false): Promise<Part> {
  const state: State = { changed: [], added: [], removed: [], unchanged: 0, problems: [], packages: false };
  const open = async (side: Side, path: WorkspacePath): Promise<Opened> => {
    return { path, side, closure: await side.sources.loadClosure(path) };
  };
  const lone: { readonly before: Read[]; readonly after: Read[] } = { before: [], after: [] };
  for (const [was, is] of pairsOf(before, after, pair)) {
    const opened = [
      was === undefined ? undefined : await open(before, was),
      is === undefined ? undefined : await open(after, is),
    ] as const;
    const unread = opened.filter(one => one !== undefined).flatMap(problemWith);
    if (unread.length > 0) {
      state.problems.push(...unread);
      continue;
    }
    const [a, b] = opened.map(one => one && readable(one, settings));
    state.packages ||= [a, b].some(one => one !== undefined && usesPackages(one.closure));
    if (a === undefined) lone.after.push(b!);
    else if (b === undefined) lone.before.push(a);
    else if (sameClosure(a, b)) state.unchanged++;
    else add(state, a, b);
  }
  pairByPlant(state, lone.before, lone.after);
  return finish(state, pair ? [] : foreignFiles(state));
}

interface State {
  readonly changed: (ComparedFile & { readonly foreign: Foreign })[];
  readonly added: LoneFile[];
  readonly removed: LoneFile[];
  unchanged: number;
  readonly problems: string[];
  packages: boolean;
}

/** The analyses behind a compared file: they also speak of the files that it uses. */
interface Foreign {
  readonly before: Read;
  readonly after: Read;
}

/** Files are the same if they are shown under the same path. */
function pairsOf(
  before: Side,
  after: Side,
  pair: boolean,
): readonly (readonly [WorkspacePath | undefined, WorkspacePath | undefined])[] {
  if (pair) return [[before.files[0], after.files[0]]];
  const byName = ({ files, show }: Side) => new Map(files.map(file => [show(file), file]));
  const [old, now] = [byName(before), byName(after)];
  return [...new Set([...old.keys(), ...now.keys()])].sort().map(name => [old.get(name), now.get(name)]);
}

function problemWith({ path, side, closure }: Opened): readonly string[] {
  const state = closure.snapshot.files.get(path);
  if (state === undefined || state.state === 'text') return [];
  const reason =
    state.state === 'unreadable'
      ? state.reason
      : state.state === 'missing'
        ? 'it is not there'
        : 'it is a link that leads out of the workspace';
  return [`"${side.show(path)}" could not be read in ${side.name}: ${reason}.`];
}

function readable(opened: Opened, settings: AnalysisSettings): Read {
  let analysis: Analysis | undefined;
  return {
    ...opened,
    analysis: () => {
      analysis ??= (opened.side.analyse ?? analyze)(opened.path, opened.closure.snapshot, settings);
      return analysis;
    },
  };
}

function usesPackages({ sources }: Closure): boolean {
  return [...sources.values()].some(({ path, state }) => {
    return state.state === 'text' && usedPaths(path, state.tree).some(({ written }) => isPackagePath(written));
  });
}

/** Whether both versions read the same texts under the same names. */
function sameClosure(a: Read, b: Read): boolean {
  const texts = ({ side, closure }: Read) =>
    new Map([...closure.sources].map(([path, source]) => [side.show(path), source] as const));
  const [old, now] = [texts(a), texts(b)];
  if (old.size !== now.size) return false;
  return [...old].every(([name, source]) => {
    const other = now.get(name);
    return other?.state.state === source.state.state && other.lines.text === source.lines.text;
  });
}

function add(state: State, before: Read, after: Read): void {
  const own = ({ analysis, path }: Read) => analysis().findings.filter(({ place }) => place.path === path);
  const [old, now] = [own(before), own(after)];
  const comparison = compareVersions(
    { analysis: before.analysis(), findings: old },
    { analysis: after.analysis(), findings: now },
  );
  const moved = before.side.show(before.path) !== after.side.show(after.path);
  if (isEmpty(comparison) && !moved) {
    state.unchanged++;
    return;
  }
  state.changed.push({
    path: after.side.show(after.path),
    movedFrom: moved ? before.side.show(before.path) : undefined,
    plant: after.analysis().plant ?? before.analysis().plant,
    comparison,
    counts: count(now),
    lineOf: lineFinder([after, before]),
    foreign: { before, after },
  });
}

/** Each finding is looked up in the version that it comes from. */
function lineFinder(versions: readonly Read[]): (finding: Finding) => number {
  return finding => {
    const of = versions.find(({ analysis }) => analysis().findings.includes(finding));
    const lines = of?.closure.sources.get(finding.place.path)?.lines;
    return lines === undefined ? 1 : positionAt(lines, finding.place.start).line + 1;
  };
}

/** A plant that moved to another file keeps its name. */
function pairByPlant(state: State, before: readonly Read[], after: readonly Read[]): void {
  const nameOf = ({ analysis }: Read) => analysis().plant;
  const only = (all: readonly Read[], name: string | undefined) => {
    const found = name === undefined ? [] : all.filter(one => nameOf(one) === name);
    return found.length === 1 ? found[0] : undefined;
  };
  for (const is of after) {
    const was = only(before, nameOf(is));
    if (was !== undefined && only(after, nameOf(is)) === is) add(state, was, is);
    else state.added.push(loneFile(is));
  }
  for (const was of before) {
    if (only(after, nameOf(was)) === undefined || only(before, nameOf(was)) !== was) state.removed.push(loneFile(was));
  }
}

function loneFile(read: Read): LoneFile {
  const { path, plant, findings } = read.analysis();
  const own = findings.filter(({ place }) => place.path === path);
  return { path: read.side.show(path), plant, counts: count(own), findings: own, lineOf: lineFinder([read]) };
}

/** Mistakes in used files that are not compared themselves, because only the plant was asked for. */
function foreignFiles({ changed, added, removed }: State): readonly ComparedFile[] {
  const compared = new Set([...changed, ...added, ...removed].map(({ path }) => path));
  const files = new Map<string, Foreign>();
  for (const { foreign } of changed) {
    for (const path of foreign.after.analysis().files) {
      const shown = foreign.after.side.show(path);
      if (!compared.has(shown) && !files.has(shown)) files.set(shown, foreign);
    }
  }
  return [...files].flatMap(([shown, { before, after }]) => {
    const about = ({ analysis, side }: Read) => {
      return analysis().findings.filter(({ place }) => side.show(place.path) === shown);
    };
    const [old, now] = [about(before), about(after)];
    const bare = (read: Read) => ({ ...read.analysis(), ...nothingDerived });
    const comparison = compareVersions(
      { analysis: bare(before), findings: old },
      { analysis: bare(after), findings: now },
    );
    if (isEmpty(comparison)) return [];
    const lineOf = lineFinder([after, before]);
    return [{ path: shown, movedFrom: undefined, plant: undefined, comparison, counts: count(now), lineOf }];
  });
}

const nothingDerived = {
  findings: [],
  values: emptyValues,
  judged: new Set(),
  facts: () => [],
  picks: [],
  outline: [],
  requirements: [],
  acceptances: [],
} as const satisfies Partial<Analysis>;

function finish(state: State, foreign: readonly ComparedFile[]): Part {
  const changed = [...state.changed.map(({ foreign: _, ...file }) => file), ...foreign].sort((a, b) =>
    a.path < b.path ? -1 : 1,
  );
  const complains = ({ counts }: LoneFile) => counts.errors + counts.warnings > 0;
  return {
    changed,
    added: state.added,
    removed: state.removed,
    unchanged: state.unchanged,
    problems: state.problems,
    remarks: state.packages ? [packagesRemark] : [],
    worse: changed.some(({ comparison }) => isWorse(comparison)) || state.added.some(complains),
  };
}

const packagesRemark =
  'Installed packages are not under version control: both versions were computed with those that are installed today.';
