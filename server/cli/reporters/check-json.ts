// `check --format json`: the findings for other programs, in the form of `checkOutput` in schemas.ts.
import type { JudgedNumber, PointView } from '../../../engine/finding.ts';
import type { CheckReport, ShownFinding } from '../report.ts';
import type { CheckOutput } from '../schemas.ts';

export function checkAsJson(report: CheckReport): string {
  const output: CheckOutput = {
    version: 1,
    plants: report.files.map(({ path, plant, findings, notChecked }) => ({
      path,
      plant: plant ?? null,
      findings: findings.map(findingOutput),
      notChecked: [...notChecked],
    })),
    counts: { ...report.counts },
    known: report.known,
    remarks: [...report.remarks],
  };
  return `${JSON.stringify(output, null, 2)}\n`;
}

export function pointOutput(point: PointView): CheckOutput['plants'][number]['findings'][number]['point'] & object {
  return {
    case: point.case ?? null,
    duty: point.duty ?? null,
    voltage: point.voltage ?? null,
    soc: point.soc ?? null,
    direction: point.direction ?? null,
  };
}

function findingOutput({
  finding,
  fingerprint,
  at,
  related,
  fixes,
}: ShownFinding): CheckOutput['plants'][number]['findings'][number] {
  return {
    code: finding.code,
    severity: finding.severity,
    hazard: finding.hazard,
    message: finding.message,
    fingerprint,
    accepted: acceptedOutput(finding),
    subject: finding.subject ?? null,
    range: at.range,
    point: finding.point === undefined ? null : pointOutput(finding.point),
    limit: judgedOutput(finding.limit),
    value: judgedOutput(finding.value),
    source: finding.source ?? null,
    related: [...related],
    fixes: fixes.map(fix => ({ ...fix, edits: [...fix.edits] })),
  };
}

function acceptedOutput({
  accepted,
}: ShownFinding['finding']): CheckOutput['plants'][number]['findings'][number]['accepted'] {
  if (accepted === undefined) return null;
  const { code, severity, until, because } = accepted;
  return { code, severity, until: until ?? null, because: because ?? null };
}

function judgedOutput(judged: JudgedNumber | undefined): CheckOutput['plants'][number]['findings'][number]['value'] {
  if (judged === undefined) return null;
  return { name: judged.name ?? null, value: finite(judged.number), display: judged.display };
}

/** JSON has no word for a value without end; its display says so. */
export function finite(value: number | undefined): number | null {
  return value !== undefined && Number.isFinite(value) ? value : null;
}
