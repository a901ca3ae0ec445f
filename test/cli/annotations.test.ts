// `check --format github`, `gitlab` and `junit`: what the platforms of pull requests read.
import { createRequire } from 'node:module';
import { describe, expect, test, vi } from 'vitest';
import { givenFiles as given } from '../kit/given.ts';
import { starter } from '../kit/starter.ts';

interface Suites {
  readonly '@_tests': string;
  readonly '@_failures': string;
  readonly testsuite: readonly { readonly testcase: readonly object[] }[];
}
interface Xml {
  readonly XMLValidator: { validate(text: string): unknown };
  readonly XMLParser: new (options: object) => { parse(text: string): { readonly testsuites: Suites } };
}
const { XMLParser, XMLValidator }: Xml = createRequire(import.meta.url)('fast-xml-parser');

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const commaMistake = 'let peak = 0,4 MW\n';
const draft = Object.fromEntries(starter('first-draft.plant'));

describe('workflow commands', () => {
  test('one line a finding, with file, line and columns', () => {
    const { out } = given({ 'parts.plant': commaMistake }).run('check', '--format', 'github');
    expect(out).toMatch(
      /^::error file=parts\.plant,line=1,endLine=1,col=12,endColumn=15,title=decimal_comma::[^\n]+\n$/,
    );
  });

  test('what would end a command early is escaped: in a message, and more of it in a property', () => {
    const name = 'a,b:c%\n::warning::x.plant';
    const { out } = given({ [name]: 'let peak = 30 %% \n' }).run('check', '--format', 'github');
    expect(out.split('\n').filter(line => line !== '')).not.toContainEqual(expect.stringMatching(/^::warning/));
    expect(out).toContain('file=a%2Cb%3Ac%25%0A%3A%3Awarning%3A%3Ax.plant,');
    for (const line of out.trimEnd().split('\n')) expect(line).toMatch(/^::(error|warning|notice) file=/);
    expect(out).not.toMatch(/%(?!25|0A|0D|3A|2C)/);
  });

  test('hazards come first', () => {
    const { out } = given(draft).run('check', '--format', 'github');
    expect(out.split('\n')[0]).toMatch(
      /^::error file=first-draft\.plant,.*,title=Hazard%3A uncontrolled_charging on K1::/,
    );
  });

  test('ten of a level, and the tenth says how many more there are', () => {
    const many = Array.from({ length: 13 }, (_, index) => `let value${index} = 0,4 MW\n`).join('');
    const lines = given({ 'many.plant': many }).run('check', '--format', 'github').out.trimEnd().split('\n');
    expect(lines).toHaveLength(10);
    expect(lines[8]).not.toContain('more');
    expect(lines[9]).toMatch(/%0A3 more errors of this check: see the summary\.$/);
  });
});

describe('code quality', () => {
  interface Entry {
    readonly description: string;
    readonly check_name: string;
    readonly fingerprint: string;
    readonly severity: string;
    readonly location: { readonly path: string; readonly lines: { readonly begin: number } };
  }

  const entries = (): readonly Entry[] => JSON.parse(given(draft).run('check', '--format', 'gitlab').out);

  test('has the fields that the report format asks for, and a fingerprint of its own for each finding', () => {
    const all = entries();
    for (const entry of all) {
      expect(entry.description).not.toBe('');
      expect(['info', 'minor', 'major', 'critical', 'blocker']).toContain(entry.severity);
      expect(entry.location.path).toMatch(/^[^./]/);
      expect(entry.location.lines.begin).toBeGreaterThan(0);
    }
    expect(new Set(all.map(({ fingerprint }) => fingerprint)).size).toBe(all.length);
  });

  test('a hazard blocks', () => {
    expect(entries().find(({ check_name }) => check_name === 'uncontrolled_charging')).toMatchObject({
      severity: 'blocker',
      description: expect.stringMatching(/^Hazard: /),
    });
  });

  test('nothing found is an empty list', () => {
    expect(given({ 'a.plant': 'let peak = 400 kW\n' }).run('check', '--format', 'gitlab').out).toBe('[]\n');
  });
});

describe('a test report', () => {
  function report(files: Readonly<Record<string, string>>, ...words: readonly string[]) {
    const { code, out } = given(files).run('check', '--format', 'junit', ...words);
    expect(XMLValidator.validate(out)).toBe(true);
    const parsed = new XMLParser({
      ignoreAttributes: false,
      isArray: (name: string) => /^test(suite|case)$/.test(name),
    }).parse(out);
    return { code, out, suites: parsed.testsuites };
  }

  test('is well-formed, counts what fails, and agrees with the exit code', () => {
    const { code, suites } = report(draft);
    expect(code).toBe(1);
    const cases = suites.testsuite.flatMap(suite => suite.testcase);
    expect(cases).toHaveLength(Number(suites['@_tests']));
    expect(cases.filter(one => 'failure' in one)).toHaveLength(Number(suites['@_failures']));
    expect(Number(suites['@_failures'])).toBeGreaterThan(0);
  });

  test('what does not belong in XML does no harm', () => {
    const { out } = report({ 'a<&">\u0001.plant': 'let peak = 0,4 MW # ]]> <b> \u0002 --> \n' });
    expect(out).toContain('a&lt;&amp;&quot;&gt;\ufffd.plant');
    expect(out).not.toContain('<b>');
  });

  test('a file without a finding is a case that passes', () => {
    const { code, suites } = report({ 'a.plant': 'let peak = 400 kW\n' });
    expect(code).toBe(0);
    expect(suites['@_failures']).toBe('0');
    expect(suites.testsuite[0]?.testcase).toHaveLength(1);
  });

  test('where warnings count as errors, they fail here too', () => {
    const failures = (...words: readonly string[]) => Number(report(draft, ...words).suites['@_failures']);
    expect(failures('--strict')).toBeGreaterThan(failures());
  });
});
