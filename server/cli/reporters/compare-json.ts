// A comparison as plain data, in the form of `compareOutput` in schemas.ts: `compare --format json`, and what all forms show.
import type { PlantComparison, ValueSide } from '../../../engine/compare/comparison.ts';
import type { Finding } from '../../../engine/finding.ts';
import type { ComparedFile, LoneFile, WorkspaceComparison } from '../../compare/workspace-comparison.ts';
import type { CompareOutput } from '../schemas.ts';
import { finite, pointOutput } from './check-json.ts';

/** The same as plain data: Markdown is made from this alone, so that it can be made elsewhere and later. */
export function comparisonOutput(comparison: WorkspaceComparison): CompareOutput {
  return {
    version: 1,
    before: comparison.before,
    after: comparison.after,
    worse: comparison.worse,
    changed: comparison.changed.map(fileOutput),
    added: comparison.added.map(loneOutput),
    removed: comparison.removed.map(loneOutput),
    unchanged: comparison.unchanged,
    problems: [...comparison.problems],
    remarks: [...comparison.remarks],
  };
}

type FileOutput = CompareOutput['changed'][number];

function fileOutput({ path, movedFrom, plant, comparison, counts, lineOf }: ComparedFile): FileOutput {
  const { renamed, elsewhere, still, doubts, picks, statements, findings } = comparison;
  return {
    path,
    movedFrom: movedFrom ?? null,
    plant: plant ?? null,
    counts: { ...counts },
    renamed: renamed.map(one => ({ ...one })),
    values: comparison.values.map(valueOutput),
    elsewhere,
    still,
    facts: comparison.facts.map(({ name, case: of, before, after, what }) => ({
      name,
      case: of ?? null,
      before: before === undefined ? null : { ...before },
      after: after === undefined ? null : { ...after },
      what,
    })),
    picks: picks.map(({ name, before, after }) => ({ name, before: before ?? null, after: after ?? null })),
    statements: statements.map(one => ({ ...one })),
    findings: {
      new: findings.new.map(finding => findingOutput(finding, lineOf)),
      gone: findings.gone.map(finding => findingOutput(finding, lineOf)),
      changed: findings.changed.map(({ before, after }) => ({
        before: findingOutput(before, lineOf),
        after: findingOutput(after, lineOf),
      })),
      unchanged: findings.unchanged,
    },
    doubts: [...doubts],
  };
}

function valueOutput({ name, meaning, unit, before, after, change, trend, limit }: PlantComparison['values'][number]) {
  return {
    name,
    meaning,
    unit,
    before: sideOutput(before),
    after: sideOutput(after),
    change: change ?? null,
    trend,
    limit: limit ?? null,
  };
}

function sideOutput(side: ValueSide | undefined): FileOutput['values'][number]['before'] {
  if (side === undefined) return null;
  return { value: finite(side.value), display: side.display, point: pointOutput(side.point) };
}

function loneOutput({ path, plant, counts, findings, lineOf }: LoneFile): CompareOutput['added'][number] {
  return {
    path,
    plant: plant ?? null,
    counts: { ...counts },
    findings: findings.map(finding => findingOutput(finding, lineOf)),
  };
}

function findingOutput(finding: Finding, lineOf: (finding: Finding) => number): FileOutput['findings']['new'][number] {
  const { code, severity, hazard, message, subject, accepted } = finding;
  return {
    code: accepted?.code ?? code,
    severity,
    hazard,
    accepted: accepted !== undefined,
    message,
    subject: subject ?? null,
    line: lineOf(finding),
  };
}
