// Sources to findings and values: the one door of the engine. Pure: the same snapshot gives the same analysis.
import type { SourceTree } from '../grammar/ast.ts';
import { exemplars } from '../grammar/exemplars.ts';
import { later } from '../grammar/later.ts';
import type {
  Analysis,
  AnalysisSettings,
  FactName,
  PickedValue,
  RequirementView,
  Snapshot,
  WorkspacePath,
} from './analysis.ts';
import { acceptanceViews, applyAcceptances } from './checks/accept.ts';
import type { Check } from './checks/check.ts';
import type { Code } from './checks/codes.ts';
import { CheckContext } from './checks/context.ts';
import { checks } from './checks/index.ts';
import { notCheckedIn } from './checks/not-checked.ts';
import { type Picked, pickRatings, type Trial } from './choice/pick-rating.ts';
import type { Finding, Severity } from './finding.ts';
import type { KindName } from './kinds/kind.ts';
import { factRows } from './model/fact-rows.ts';
import type { KnownResults } from './model/lookup.ts';
import { lowerPlant } from './model/lower.ts';
import { Lowerer, type OpenPick, pickKey } from './model/lowerer.ts';
import { outlineOf } from './model/outline.ts';
import type { Component, Plant, Requirement } from './model/plant.ts';
import { Report } from './model/report.ts';
import { type FileScope, placeOf, Scopes } from './model/scope.ts';
import { readSyntax } from './model/syntax-only.ts';
import { Graph } from './results/graph.ts';
import { resultDimension, resultsOf } from './results/index.ts';
import { emptyValues, valueTable } from './results/values.ts';
import { dimensions } from './units/dimension.ts';
import { show } from './units/show.ts';
import { type Kept, WholeAnalysis } from './whole-analysis.ts';

/**
 * Analyses one file with all that it uses. `previous` may be any earlier analysis: whatever did not change is taken
 * over, and the outcome is the same as without it.
 */
export function analyze(
  path: WorkspacePath,
  snapshot: Snapshot,
  settings: AnalysisSettings,
  previous?: Analysis,
): Analysis {
  const state = snapshot.files.get(path);
  if (state?.state !== 'text')
    return unreadable(path, state?.state === 'unreadable' ? state.reason : 'it is not there');
  const length = lengthOf(snapshot);
  if (settings.longest !== undefined && length > settings.longest)
    return syntaxOnly(path, state.tree, length, settings.longest);
  const earlier = previous instanceof WholeAnalysis ? previous.kept : undefined;
  const trials: Trials = { graphs: new Map(), latest: undefined };
  const open = lower(path, state.tree, snapshot, new Map());
  const choice =
    open.lowerer.openPicks.length === 0
      ? undefined
      : pickRatings(distinct(open.lowerer.openPicks), chosen =>
          attempt(path, state.tree, snapshot, chosen, earlier, trials),
        );
  const { report, root, scopes, plant } =
    choice === undefined ? open : lower(path, state.tree, snapshot, choice.chosen);
  // What was picked has been judged already, and says the same again.
  const tried = choice === undefined ? undefined : trials.graphs.get(keyOf(choice.chosen));
  const graph = plant === undefined ? undefined : new Graph(plant, tried ?? earlier?.graph);
  noteMistakesInUsedFiles(root, report);
  // Nor is anything computed with a component that stands in no chain.
  const flawed = report.findings.some(({ code, severity }) => severity === 'error' || code === 'unconnected');
  const { findings: said, judges } =
    plant === undefined || graph === undefined ? nothingChecked : runChecks(plant, graph);
  const checked = plant === undefined ? [] : applyAcceptances(plant, said, settings.today, flawed);
  const picked = choice?.picked ?? [];
  const atHand = {
    path,
    plant: plant?.name,
    files: scopes.files.map(scope => scope.path).sort((a, b) => Number(b === path) - Number(a === path)),
    findings: sorted([...report.findings, ...checked, ...picked.flatMap(failedPick)], path),
    notChecked: plant === undefined || graph === undefined ? [] : notCheckedAsBefore(plant, graph),
    values: graph === undefined ? emptyValues : valueTable(graph),
    picks: picked.map(pickedValue),
    acceptances: plant === undefined ? [] : acceptanceViews(plant, checked, settings.today),
    facts: (only?: FactName) => (plant === undefined ? [] : factRows(plant, only)),
  };
  const late = {
    judged: later(() => new Set([...(plant?.requirements ?? []).flatMap(resultsIn), ...judges.flat()])),
    requirements: later(() => plant?.requirements.map(requirementView) ?? []),
    outline: later(() => outlineOf(root)),
  };
  return new WholeAnalysis(atHand, late, graph && { graph, trials: trials.graphs });
}

const knownResults: KnownResults = {
  dimension: resultDimension,
  names: kind => resultsOf(kind).map(result => result.name),
  isHazard: code => checks.some(check => check.code === code && check.hazard === true),
};

/** How many columns the analysis computed anew, for tests and benchmarks of the incremental way. */
export function columnsComputed(analysis: Analysis): number {
  return analysis instanceof WholeAnalysis ? (analysis.kept?.graph.computed ?? 0) : 0;
}

function lower(path: WorkspacePath, tree: SourceTree, snapshot: Snapshot, chosen: ReadonlyMap<string, number>) {
  const report = new Report();
  const scopes = new Scopes(snapshot, report);
  const root = scopes.of(path, tree);
  const lowerer = new Lowerer(root, scopes, report, knownResults, chosen);
  exemplars.lowering = [report, scopes, lowerer];
  return { report, scopes, root, lowerer, plant: lowerPlant(lowerer) };
}

function attempt(
  path: WorkspacePath,
  tree: SourceTree,
  snapshot: Snapshot,
  chosen: ReadonlyMap<string, number>,
  earlier: Kept | undefined,
  trials: Trials,
): Trial | undefined {
  const { plant } = lower(path, tree, snapshot, chosen);
  if (plant === undefined) return undefined;
  // Made only when it is judged: a candidate differs from the one before in little.
  let made: Graph | undefined;
  const graph = (): Graph => {
    const key = keyOf(chosen);
    made ??= new Graph(plant, earlier?.trials.get(key) ?? trials.latest ?? earlier?.graph);
    trials.graphs.set(key, made);
    trials.latest = made;
    return made;
  };
  return {
    plant,
    about: tag => runChecksOn(plant, graph(), tag),
    findings: () => runChecks(plant, graph()).findings,
  };
}

/** Candidates that were judged, by what was chosen, and the one judged last. */
interface Trials {
  readonly graphs: Map<string, Graph>;
  latest: Graph | undefined;
}

const keyOf = (chosen: ReadonlyMap<string, number>): string => [...chosen].join(';');

/** A property may be looked at more than once; it is picked once. */
function distinct(open: readonly OpenPick[]): readonly OpenPick[] {
  return [...new Map(open.map(pick => [pickKey(pick.place), pick])).values()];
}

function pickedValue({ component, open, value }: Picked): PickedValue {
  const text = value === undefined ? undefined : show(value, dimensions.apparent_power);
  return { subject: component.tag, property: open.property.name, place: open.place, text };
}

function requirementView(requirement: Requirement): RequirementView {
  const { name, written, during, because, place } = requirement;
  return { name, written, during, because, place, judges: resultsIn(requirement) };
}

function resultsIn({ left, right }: Requirement): readonly string[] {
  return [...left.variables, ...right.variables].flatMap(({ result }) =>
    result === undefined ? [] : `${result.tag}.${result.name}`,
  );
}

function failedPick({ component, open, value, why }: Picked): readonly Finding[] {
  if (value !== undefined) return [];
  const message = `No preferred rating holds for ${component.tag}${why === undefined ? '.' : `; with the largest one tried: ${why}`}`;
  return [{ ...bare, code: 'missing_fact', severity: 'error', message, subject: component.tag, place: open.place }];
}

interface Checked {
  readonly findings: readonly Finding[];
  /** The results that checks judge, list by list: put together only for whoever asks. */
  readonly judges: readonly (readonly string[])[];
}

const nothingChecked: Checked = { findings: [], judges: [] };

function runChecks(plant: Plant, graph: Graph): Checked {
  const findings: Finding[] = [];
  const judges: (readonly string[])[] = [];
  const byKind = new Map<KindName, { readonly components: Component[]; readonly tags: string[] }>();
  for (const component of plant.components) {
    const alike = byKind.get(component.kind.name) ?? { components: [], tags: [] };
    byKind.set(component.kind.name, alike);
    alike.components.push(component);
    alike.tags.push(component.tag);
  }
  for (const check of checks) {
    const judging = byKind.get(check.on);
    if (judging === undefined) continue;
    const quiet = check.looksEverywhere === true ? undefined : graph.allQuiet(check.code, judging.tags);
    if (quiet !== undefined) {
      judges.push(...quiet);
      continue;
    }
    for (const component of judging.components) {
      const checked = runCheck(plant, graph, check, component);
      if (checked.findings.length > 0) findings.push(...checked.findings);
      if (checked.judged.length > 0) judges.push(checked.judged);
    }
  }
  return { findings, judges };
}

/** Gathered again only after a change of what it was gathered from. */
function notCheckedAsBefore(plant: Plant, graph: Graph): readonly string[] {
  return graph.unlessQuiet({ what: 'not checked', at: '' }, () => notCheckedIn(plant, graph, checks)) ?? [];
}

/** Of the checks of its kind alone. */
function runChecksOn(plant: Plant, graph: Graph, tag: string): readonly Finding[] {
  const component = plant.byTag.get(tag);
  if (component === undefined) return [];
  return checks
    .filter(check => check.on === component.kind.name)
    .flatMap(check => runCheck(plant, graph, check, component).findings);
}

/** Where it had nothing to say, it is asked again only after a change of what it looked at. */
function runCheck(plant: Plant, graph: Graph, check: Check, component: Component): Judgement {
  if (check.looksEverywhere !== true) {
    const judged = graph.stillQuiet({ what: check.code, at: component.tag });
    if (judged !== undefined) return { findings: nothingSaid, judged };
  }
  return askCheck(plant, graph, check, component);
}

interface Judgement {
  readonly findings: readonly Finding[];
  readonly judged: readonly string[];
}

const nothingSaid: readonly Finding[] = [];

function askCheck(plant: Plant, graph: Graph, check: Check, component: Component): Judgement {
  let findings = nothingSaid;
  let judged: readonly string[] = [];
  const run = (): readonly string[] | undefined => {
    const context = new CheckContext(plant, graph, check);
    check.run(context, component);
    findings = context.findings;
    judged = [...context.judged];
    return findings.length === 0 ? judged : undefined;
  };
  if (check.looksEverywhere === true) run();
  else judged = graph.listen({ what: check.code, at: component.tag }, run) ?? judged;
  return { findings, judged };
}

/** A mistake in a used file is shown in that file; whoever uses it, directly or through others, gets one note. */
function noteMistakesInUsedFiles(root: FileScope, report: Report): void {
  const errors = new Map<WorkspacePath, number>();
  for (const { place, severity } of report.findings)
    if (severity === 'error') errors.set(place.path, (errors.get(place.path) ?? 0) + 1);
  const seen = new Set<FileScope>();
  const visit = (file: FileScope): void => {
    if (seen.has(file)) return;
    seen.add(file);
    for (const { declaration, scope } of file.uses) {
      visit(scope);
      const wrong = closureOf(scope).filter(path => errors.has(path));
      const literal = declaration.node.path;
      if (wrong.length === 0 || literal === undefined) continue;
      const count = wrong.reduce((sum, path) => sum + errors.get(path)!, 0);
      report.add({
        code: 'syntax',
        severity: 'note',
        place: placeOf(declaration, literal),
        message: `${wrong.map(path => `\`${path}\``).join(' and ')} ${wrong.length === 1 ? 'has' : 'have'} ${count === 1 ? 'a mistake' : `${count} mistakes`}: see there.`,
      });
    }
  };
  visit(root);
}

/** A file and all that it uses. */
function closureOf(scope: FileScope, seen = new Set<FileScope>()): readonly WorkspacePath[] {
  if (seen.has(scope)) return [];
  seen.add(scope);
  return [scope.path, ...scope.uses.flatMap(use => closureOf(use.scope, seen))];
}

const order: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2, hint: 3 };

function sorted(findings: readonly Finding[], path: WorkspacePath): readonly Finding[] {
  return [...findings].sort((a, b) => {
    if (a.place.path !== b.place.path)
      return a.place.path === path ? -1 : b.place.path === path ? 1 : a.place.path < b.place.path ? -1 : 1;
    return (
      a.place.start - b.place.start ||
      a.place.end - b.place.end ||
      order[a.severity] - order[b.severity] ||
      compareCodes(a.code, b.code)
    );
  });
}

function compareCodes(a: Code, b: Code): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

const bare = {
  hazard: false,
  subject: undefined,
  related: [],
  value: undefined,
  limit: undefined,
  point: undefined,
  source: undefined,
  fixes: [],
} as const;

function lengthOf({ files }: Snapshot): number {
  return [...files.values()].reduce((sum, file) => sum + (file.state === 'text' ? file.tree.text.length : 0), 0);
}

/** Of a text too long to be judged at every keystroke. */
function syntaxOnly(path: WorkspacePath, tree: SourceTree, length: number, longest: number): Analysis {
  const report = new Report();
  const outline = readSyntax(path, tree, report);
  const thousands = (characters: number) => `${Math.round(characters / 1000)} kB`;
  report.add({
    code: 'not_evaluated',
    severity: 'warning',
    place: { path, start: 0, end: tree.text.split('\n', 1)[0]?.length ?? 0 },
    message: `With the files that it uses this is ${thousands(length)} of text; beyond ${thousands(longest)} the editor looks at the syntax alone and judges nothing. The command \`wattwright check\` judges it all; or keep several plants in files of their own.`,
  });
  return Object.freeze({ ...nothingKnown(path), findings: sorted(report.findings, path), outline });
}

function unreadable(path: WorkspacePath, reason: string): Analysis {
  const finding: Finding = {
    ...bare,
    code: 'missing_file',
    severity: 'error',
    message: `This file can't be read: ${reason}.`,
    place: { path, start: 0, end: 0 },
  };
  return Object.freeze({ ...nothingKnown(path), findings: [finding] });
}

function nothingKnown(path: WorkspacePath): Analysis {
  return {
    path,
    plant: undefined,
    files: [path],
    findings: [],
    notChecked: [],
    values: emptyValues,
    judged: new Set(),
    picks: [],
    requirements: [],
    acceptances: [],
    facts: () => [],
    outline: [],
  };
}
