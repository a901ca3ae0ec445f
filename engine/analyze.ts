// Sources to findings and values: the one door of the engine. Pure: the same snapshot gives the same analysis.
import type { Analysis, AnalysisSettings, Snapshot, WorkspacePath } from './analysis.ts';
import { applyAcceptances } from './checks/accept.ts';
import type { Code } from './checks/codes.ts';
import { CheckContext } from './checks/context.ts';
import { checks, notChecked } from './checks/index.ts';
import type { Finding, Severity } from './finding.ts';
import { lowerPlant } from './model/lower.ts';
import { Lowerer } from './model/lowerer.ts';
import { outlineOf } from './model/outline.ts';
import type { Plant } from './model/plant.ts';
import { Report } from './model/report.ts';
import { Scopes, type FileScope } from './model/scope.ts';
import { Graph } from './results/graph.ts';
import { resultDimension } from './results/index.ts';
import { emptyValues, valueTable } from './results/values.ts';

/** Graphs of earlier analyses, beside them: reused where the next text leaves facts as they were. */
const graphs = new WeakMap<Analysis, Graph>();

/**
 * Analyses one file with all that it uses. `previous` may be any earlier analysis: whatever did not change is taken
 * over, and the outcome is the same as without it.
 */
export function analyze(path: WorkspacePath, snapshot: Snapshot, settings: AnalysisSettings, previous?: Analysis): Analysis {
  const state = snapshot.files.get(path);
  if (state?.state !== 'text') return unreadable(path, state?.state === 'unreadable' ? state.reason : 'it is not there');
  const report = new Report();
  const scopes = new Scopes(snapshot, report);
  const root = scopes.of(path, state.tree);
  const lowerer = new Lowerer(root, scopes, report, resultDimension);
  const plant = lowerPlant(lowerer);
  const graph = plant === undefined ? undefined : new Graph(plant, previous === undefined ? undefined : graphs.get(previous));
  noteMistakesInUsedFiles(root, report);
  const checked = plant === undefined || graph === undefined ? [] : runChecks(plant, graph, settings);
  const analysis: Analysis = Object.freeze({
    path,
    plant: plant?.name,
    files: scopes.files.map(scope => scope.path).sort((a, b) => Number(b === path) - Number(a === path)),
    findings: sorted([...report.findings, ...checked], path),
    notChecked: plant === undefined ? [] : notChecked,
    values: graph === undefined ? emptyValues : valueTable(graph),
    outline: outlineOf(root),
  });
  if (graph !== undefined) graphs.set(analysis, graph);
  return analysis;
}

/** How many columns the analysis computed anew, for tests and benchmarks of the incremental way. */
export function columnsComputed(analysis: Analysis): number {
  return graphs.get(analysis)?.computed ?? 0;
}

function runChecks(plant: Plant, graph: Graph, settings: AnalysisSettings): readonly Finding[] {
  const findings: Finding[] = [];
  for (const check of checks) {
    const context = new CheckContext(plant, graph, check);
    for (const component of plant.components) {
      if (component.kind.name === check.on) check.run(context, component);
    }
    findings.push(...context.findings);
  }
  return applyAcceptances(plant, findings, settings.today);
}

/** A mistake in a used file is shown in that file; whoever uses it gets one note at the `use`. */
function noteMistakesInUsedFiles(root: FileScope, report: Report): void {
  const errors = new Map<WorkspacePath, number>();
  for (const { place, severity } of report.findings) if (severity === 'error') errors.set(place.path, (errors.get(place.path) ?? 0) + 1);
  for (const { declaration, scope } of root.uses) {
    const count = errors.get(scope.path) ?? 0;
    const literal = declaration.node.path;
    if (count === 0 || literal === undefined) continue;
    report.add({
      code: 'syntax',
      severity: 'note',
      place: { path: root.path, start: declaration.start + literal.start, end: declaration.start + literal.end },
      message: `\`${scope.path}\` has ${count === 1 ? 'a mistake' : `${count} mistakes`}: see there.`,
    });
  }
}

const order: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2, hint: 3 };

function sorted(findings: readonly Finding[], path: WorkspacePath): readonly Finding[] {
  return [...findings].sort((a, b) => {
    if (a.place.path !== b.place.path) return a.place.path === path ? -1 : b.place.path === path ? 1 : a.place.path < b.place.path ? -1 : 1;
    return a.place.start - b.place.start || a.place.end - b.place.end || order[a.severity] - order[b.severity] || compareCodes(a.code, b.code);
  });
}

function compareCodes(a: Code, b: Code): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function unreadable(path: WorkspacePath, reason: string): Analysis {
  const finding: Finding = {
    code: 'missing_file',
    severity: 'error',
    hazard: false,
    message: `This file can't be read: ${reason}.`,
    subject: undefined,
    place: { path, start: 0, end: 0 },
    related: [],
    value: undefined,
    limit: undefined,
    point: undefined,
    source: undefined,
    fixes: [],
  };
  return Object.freeze({ path, plant: undefined, files: [path], findings: [finding], notChecked: [], values: emptyValues, outline: [] });
}
