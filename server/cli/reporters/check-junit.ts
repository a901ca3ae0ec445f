// `check --format junit`: a test report in XML, for systems that show nothing else: a suite a file, a case a finding.
import { type CheckedFile, type CheckReport, notCheckedIn, type ShownFinding } from '../report.ts';

export function checkAsJunit(report: CheckReport): string {
  const fails = ({ finding: { severity } }: ShownFinding): boolean => {
    return severity === 'error' || (report.strict && severity === 'warning');
  };
  const suites = report.files.map(file => suite(file, fails));
  const unreadable = report.unreadable.map(({ path, reason }) => {
    const inner = `<error message="${attribute(`It could not be read: ${reason}.`)}" type="unreadable"/>`;
    const testcase = `    <testcase name="can be read" classname="${attribute(path)}">${inner}</testcase>`;
    return element(path, 1, 0, 1, [testcase]);
  });
  const remarks = [...report.remarks, ...notCheckedIn(report).map(words => `Not checked: ${words}.`)];
  const said = remarks.length === 0 ? [] : [`<!-- ${comment(remarks.join(' '))} -->`];
  const all = [...suites, ...unreadable].map(({ xml }) => xml);
  const total = [...suites, ...unreadable].reduce((sum, { tests }) => sum + tests, 0);
  const failures = suites.reduce((sum, one) => sum + one.failures, 0);
  const head = `<testsuites name="wattwright" tests="${total}" failures="${failures}" errors="${unreadable.length}">`;
  return ['<?xml version="1.0" encoding="UTF-8"?>', ...said, head, ...all, '</testsuites>', ''].join('\n');
}

interface Suite {
  readonly xml: string;
  readonly tests: number;
  readonly failures: number;
}

/** What fails nothing stands in the case's output; a file without a finding is one case that passes. */
function suite({ path, findings }: CheckedFile, fails: (shown: ShownFinding) => boolean): Suite {
  const cases = findings.map(shown => testcase(shown, fails(shown)));
  if (cases.length === 0) cases.push(`    <testcase name="no findings" classname="${attribute(path)}"/>`);
  return element(path, cases.length, findings.filter(fails).length, 0, cases);
}

function element(path: string, tests: number, failures: number, errors: number, cases: readonly string[]): Suite {
  const head = `  <testsuite name="${attribute(path)}" tests="${tests}" failures="${failures}" errors="${errors}">`;
  return { xml: [head, ...cases, '  </testsuite>'].join('\n'), tests, failures };
}

function testcase({ finding, at, lineText, fingerprint }: ShownFinding, fails: boolean): string {
  const name = [finding.code, finding.subject].filter(Boolean).join(' on ');
  const line = at.range.start.line;
  const place = `${at.path}:${line}: ${lineText.trim()}`;
  const inner = fails
    ? `<failure message="${attribute(finding.message)}" type="${finding.hazard ? 'hazard' : finding.severity}">${content(place)}</failure>`
    : `<system-out>${content(`${finding.severity}: ${finding.message}\n${place}`)}</system-out>`;
  // Systems tell cases apart by name and class.
  const id = `${name} (${fingerprint.slice(0, 8)})`;
  return `    <testcase name="${attribute(id)}" classname="${attribute(at.path)}" file="${attribute(at.path)}" line="${line}">${inner}</testcase>`;
}

function content(text: string): string {
  return allowed(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

function attribute(text: string): string {
  return content(text).replaceAll('"', '&quot;').replaceAll('\t', '&#9;').replaceAll('\n', '&#10;');
}

function comment(text: string): string {
  return allowed(text).replace(/-(?=-|$)/g, '- ');
}

/** XML 1.0 has no way to write most control characters or half a pair of surrogates. */
function allowed(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very characters to keep out.
  return text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\ufffe\uffff]|\p{Surrogate}/gu, '\ufffd');
}
