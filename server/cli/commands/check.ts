// The command `check`: the findings of every plant and every part under the paths.
import path from 'node:path';
import type { Analysis, Derivation } from '../../../engine/analysis.ts';
import type { Finding } from '../../../engine/finding.ts';
import { type Counts, count, identityOf } from '../../findings.ts';
import { writeText } from '../../node-host.ts';
import type { Command } from '../command.ts';
import type { Loaded } from '../load.ts';
import { type CheckReport, type Files, type ShownFinding, shownFinding } from '../report.ts';
import { checkAsJson } from '../reporters/check-json.ts';
import { checkAsText } from '../reporters/check-text.ts';
import { displayPath, findTargets } from '../targets.ts';
import { type ExitCode, plainStyle, type Style, type Terminal } from '../terminal.ts';

const reporters: Readonly<Record<string, (report: CheckReport, style: Style) => string>> = {
  text: checkAsText,
  json: checkAsJson,
};

export const check: Command = {
  name: 'check',
  summary: 'says what does not hold in every plant under the paths',
  operands: '[PATH…]',
  leastOperands: 0,
  mostOperands: Number.POSITIVE_INFINITY,
  options: {
    format: { meaning: 'how to write the findings (text)', value: Object.keys(reporters) },
    output: { meaning: 'write there instead of to the terminal', value: 'FILE' },
    strict: { meaning: 'warnings count as errors for the exit code' },
  },
  details: `A path is a .plant file or a folder, of which all .plant files are checked, except in node_modules and in folders
that begin with a dot. Without a path it is the current folder. "use" in a file reaches everywhere in its workspace:
the nearest folder above that holds a package.json or a .git, else the folder given. Paths in the output count from the
current folder; lines and columns count from 1, columns in UTF-16 code units. "wattwright explain CODE" tells more about
a finding.`,
  run: async ({ operands, switches, values }, terminal) => {
    const targets = await findTargets(operands, terminal);
    if (!targets.ok) return fail(terminal, targets.message);
    const { isUnreadable, loadAll } = await import('../load.ts');
    const form = values.get('format') ?? 'text';
    const report = createReport(form === 'text');
    for await (const loaded of loadAll(targets.groups)) {
      if (isUnreadable(loaded)) report.skip(displayPath(loaded.root, loaded.path, terminal), loaded.reason);
      else report.add(loaded, file => displayPath(loaded.root, file, terminal));
    }
    const finished = report.finish();
    const write = reporters[form] ?? checkAsText;
    const output = values.get('output');
    if (output === undefined) terminal.out(write(finished, terminal.style));
    else {
      const problem = await writeText(path.resolve(terminal.folder, output), write(finished, plainStyle));
      if (problem !== undefined) return fail(terminal, `"${output}" could not be written: ${problem}`);
    }
    for (const { path: file, reason } of finished.unreadable) terminal.err(`"${file}" could not be read: ${reason}.\n`);
    if (finished.unreadable.length > 0) return 2;
    return isBad(finished.counts, switches.has('strict')) ? 1 : 0;
  },
};

function isBad(counts: Counts, strict: boolean): boolean {
  return counts.errors > 0 || (strict && counts.warnings > 0);
}

function fail(terminal: Terminal, message: string): ExitCode {
  terminal.err(`${message}\n`);
  return 2;
}

/** Gathers what the analyses say, file by file, each finding once however many plants share the part it sits in. */
function createReport(withDerivations: boolean) {
  const files = new Map<string, { plant: string | undefined; notChecked: readonly string[]; findings: Findings }>();
  const unreadable: { path: string; reason: string }[] = [];

  const fileAt = (shown: string) => {
    const file = files.get(shown) ?? { plant: undefined, notChecked: [], findings: new Map<string, ShownFinding>() };
    files.set(shown, file);
    return file;
  };

  const add = ({ path, analysis, linesOf }: Loaded, show: Files['show']): void => {
    const own = fileAt(show(path));
    own.plant = analysis.plant;
    own.notChecked = analysis.notChecked;
    for (const finding of analysis.findings) {
      const { findings } = fileAt(show(finding.place.path));
      const key = identityOf(finding);
      if (findings.has(key)) continue;
      const derivation = withDerivations ? derivationOf(finding, analysis) : undefined;
      findings.set(key, shownFinding(finding, derivation, { linesOf, show }));
    }
  };

  const finish = (): CheckReport => {
    const sorted = [...files].sort(([a], [b]) => (a < b ? -1 : 1));
    const done = sorted.map(([path, file]) => ({ ...file, path, findings: [...file.findings.values()] }));
    const counts = count(done.flatMap(file => file.findings.map(({ finding }) => finding)));
    return { files: done, counts, unreadable };
  };

  return { add, skip: (path: string, reason: string) => void unreadable.push({ path, reason }), finish };
}

type Findings = Map<string, ShownFinding>;

function derivationOf({ value, point }: Finding, analysis: Analysis): Derivation | undefined {
  return value?.name === undefined ? undefined : analysis.values.explain({ name: value.name, point });
}
