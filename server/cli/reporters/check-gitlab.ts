// `check --format gitlab`: a code quality report, after docs.gitlab.com, "Code Quality", "Code Quality report format".
import type { Finding } from '../../../engine/finding.ts';
import type { CheckReport } from '../report.ts';

type Grade = 'info' | 'minor' | 'major' | 'critical' | 'blocker';

export function checkAsGitlab(report: CheckReport): string {
  const entries = report.files.flatMap(file =>
    file.findings.map(({ finding, fingerprint, at }) => ({
      description: `${finding.hazard ? 'Hazard: ' : ''}${finding.message}`,
      check_name: finding.accepted?.code ?? finding.code,
      fingerprint,
      severity: gradeOf(finding),
      location: { path: at.path, lines: { begin: at.range.start.line, end: at.range.end.line } },
    })),
  );
  return `${JSON.stringify(entries, null, 2)}\n`;
}

function gradeOf({ severity, hazard }: Finding): Grade {
  if (severity === 'error') return hazard ? 'blocker' : 'critical';
  if (severity === 'warning') return 'major';
  return severity === 'note' ? 'minor' : 'info';
}
