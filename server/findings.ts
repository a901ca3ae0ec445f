// Small questions about lists of findings that editor and terminal both ask.
import type { WorkspacePath } from '../engine/analysis.ts';
import type { Finding, PointView, Severity } from '../engine/finding.ts';

export type Counts = Readonly<Record<'errors' | 'warnings' | 'notes' | 'hints', number>>;

/** An analysis speaks of its own file and of those that it uses: sorts its findings by the file that they sit in. */
export function groupByFile(findings: readonly Finding[]): ReadonlyMap<WorkspacePath, readonly Finding[]> {
  const byFile = new Map<WorkspacePath, Finding[]>();
  for (const finding of findings) {
    const about = byFile.get(finding.place.path);
    if (about === undefined) byFile.set(finding.place.path, [finding]);
    else about.push(finding);
  }
  return byFile;
}

/** Equal for findings that say the same of the same place: two users of a file complain about it in the same words. */
export function identityOf({ code, place, subject, message }: Finding): string {
  // What may hold a line break comes last.
  return [code, place.path, place.start, place.end, subject, message].join('\n');
}

export function count(findings: readonly Finding[]): Counts {
  const of = (severity: Severity) => findings.filter(finding => finding.severity === severity).length;
  return { errors: of('error'), warnings: of('warning'), notes: of('note'), hints: of('hint') };
}

/** `1 error, 2 warnings`, without what there is none of; `no findings` where there are none at all. */
export function describeCounts(counts: Counts): string {
  const parts = Object.entries(counts)
    .filter(([, number]) => number > 0)
    .map(([name, number]) => `${number} ${number === 1 ? name.slice(0, -1) : name}`);
  return parts.length === 0 ? 'no findings' : parts.join(', ');
}

/** `case worn, duty start_peak, low network voltage, 10 % charged, delivering`; empty where nothing is fixed. */
export function describePoint(point: PointView): string {
  const parts: string[] = [];
  if (point.case !== undefined && point.case !== '') parts.push(`case ${point.case}`);
  if (point.duty !== undefined) parts.push(`duty ${point.duty}`);
  if (point.voltage !== undefined) parts.push(`${point.voltage} network voltage`);
  if (point.soc !== undefined) parts.push(`${Number((point.soc * 100).toFixed(1))} % charged`);
  if (point.direction !== undefined) parts.push(`${point.direction} reactive power`);
  return parts.join(', ');
}
