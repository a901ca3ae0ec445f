// `check --format github`: workflow commands, which become annotations on the lines of a pull request.
// After docs.github.com, "Workflow commands for GitHub Actions"; what is escaped after the runner's own rules, which
// read %25, %0D and %0A in a message and also %3A and %2C in a property.
import type { Severity } from '../../../engine/finding.ts';
import { byWeight } from '../gather.ts';
import type { CheckReport, ShownFinding } from '../report.ts';

type Level = 'error' | 'warning' | 'notice';

/** So many annotations of each level are kept of one step. */
const mostOfALevel = 10;

const levels: readonly Level[] = ['error', 'warning', 'notice'];
const levelOf: Readonly<Record<Severity, Level>> = {
  error: 'error',
  warning: 'warning',
  note: 'notice',
  hint: 'notice',
};

/** Hazards first; the last annotation of a level says how many more there are. */
export function checkAsGithub(report: CheckReport): string {
  const all = byWeight(report);
  return levels
    .flatMap(level => {
      const found = all.filter(({ finding }) => levelOf[finding.severity] === level);
      const shown = found.slice(0, mostOfALevel);
      const left = found.length - shown.length;
      return shown.map((one, index) => command(level, one, index === shown.length - 1 ? left : 0));
    })
    .join('');
}

function command(level: Level, { finding, at, related }: ShownFinding, left: number): string {
  const { start, end } = at.range;
  // Columns are only understood within one line.
  const columns = start.line === end.line ? { col: start.column, endColumn: end.column } : {};
  const properties = {
    file: at.path,
    line: start.line,
    endLine: end.line,
    ...columns,
    title: `${finding.hazard ? 'Hazard: ' : ''}${finding.code}${finding.subject === undefined ? '' : ` on ${finding.subject}`}`,
  };
  const list = Object.entries(properties).map(([name, value]) => `${name}=${escapeProperty(String(value))}`);
  const message = [
    finding.message,
    ...related.map(place => `See ${place.path}:${place.range.start.line}: ${place.message}`),
    ...(left > 0 ? [`${left} more ${left === 1 ? level : `${level}s`} of this check: see the summary.`] : []),
  ].join('\n');
  return `::${level} ${list.join(',')}::${escapeData(message)}\n`;
}

export function escapeData(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

export function escapeProperty(text: string): string {
  return escapeData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
