// `check` for people: each finding on its line, with the numbers that it comes from.
import type { Derivation } from '../../../engine/analysis.ts';
import type { Severity } from '../../../engine/finding.ts';
import { describeCounts } from '../../findings.ts';
import { inputsInWords } from '../../inputs.ts';
import { type CheckReport, notCheckedIn, type ShownFinding } from '../report.ts';
import { type Colour, harmless, type Style } from '../terminal.ts';
import { showSourceLine } from './source-line.ts';

const colours: Readonly<Record<Severity, Colour>> = { error: 'red', warning: 'yellow', note: 'blue', hint: 'grey' };

export function checkAsText(report: CheckReport, style: Style): string {
  const findings = report.files.flatMap(file => file.findings.map(shown => showFinding(shown, style)));
  return [...findings, summary(report, style)].join('\n');
}

function showFinding(shown: ShownFinding, style: Style): string {
  const { finding, at } = shown;
  const colour = (text: string) => style.colour(colours[finding.severity], text);
  const { line, column } = at.range.start;
  const label = `${finding.severity}[${finding.code}]${finding.hazard ? ' hazard' : ''}`;
  const end = at.range.end.line === line ? at.range.end.column - 1 : Number.POSITIVE_INFINITY;
  return lines(
    `${style.bold(`${harmless(at.path)}:${line}:${column}`)}: ${colour(label)}: ${harmless(finding.message)}`,
    showSourceLine({ text: shown.lineText, line, start: column - 1, end }, colour, style),
    shown.derivation === undefined ? undefined : showDerivation(shown.derivation, finding.source),
    ...shown.related.map(({ path, range, message }) => {
      return `     see ${harmless(path)}:${range.start.line}:${range.start.column}: ${harmless(message)}`;
    }),
    ...shown.fixes.map(({ title, safe }) => `     ${safe ? 'fix' : 'choice'}: ${harmless(title)}`),
    '',
  );
}

/** Value and formula, and below it the numbers that were put in and where the rule comes from. */
function showDerivation(derivation: Derivation, source: string | undefined): string {
  const inputs = inputsInWords(derivation.name, derivation.inputs, 6);
  const from = [derivation.source, source === derivation.source ? undefined : source].filter(Boolean).join('; limit: ');
  return lines(
    harmless(`     ${derivation.name} = ${derivation.display}: ${derivation.formula}`),
    inputs === '' ? undefined : wrap(harmless(`with ${inputs}`), ' '.repeat(7)),
    from === '' ? undefined : harmless(`       after ${from}`),
  );
}

/** Breaks at commas, so that a long list of inputs stays readable. */
function wrap(text: string, indent: string): string {
  const rows: string[] = [];
  let row = indent;
  for (const part of text.split(/(?<=,) /)) {
    if (row.length + part.length > 110 && row.trim() !== '') {
      rows.push(row.trimEnd());
      row = `${indent}     `;
    }
    row += `${part} `;
  }
  return [...rows, row.trimEnd()].join('\n');
}

function summary(report: CheckReport, style: Style): string {
  const plants = report.files.filter(file => file.plant !== undefined).length;
  const others = report.files.length - plants;
  const counted = [plural(plants, 'plant'), others > 0 || plants === 0 ? plural(others, 'parts file') : undefined];
  const { errors, warnings } = report.counts;
  const colour: Colour = errors > 0 ? 'red' : warnings > 0 ? 'yellow' : 'blue';
  const result = style.colour(colour, describeCounts(report.counts));
  const notChecked = notCheckedIn(report)
    .map(words => `\n  ${harmless(words)}`)
    .join('');
  const remarks = report.remarks.map(words => `${harmless(words)}\n`).join('');
  // "No findings" would sound like good news where nothing could be read.
  const checked =
    report.files.length === 0
      ? 'Nothing was checked.\n'
      : `Checked ${counted.filter(Boolean).join(' and ')}: ${result}.\n`;
  return `${checked}${remarks}${notChecked && `Not checked:${notChecked}\n`}`;
}

function plural(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? '' : 's'}`;
}

function lines(...parts: readonly (string | undefined)[]): string {
  return parts.filter(part => part !== undefined).join('\n');
}
