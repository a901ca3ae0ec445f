// What a task of the editor makes of the terminal's findings: every one, with its place, severity and code.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { makeFolder } from '../kit/command.ts';
import { starter } from '../kit/starter.ts';

const root = path.resolve(import.meta.dirname, '../..');

interface Matcher {
  readonly pattern: Readonly<Record<'file' | 'line' | 'column' | 'severity' | 'code' | 'message', number>> & {
    readonly regexp: string;
  };
}

interface Report {
  readonly plants: readonly { readonly path: string; readonly findings: readonly ReportedFinding[] }[];
}

interface ReportedFinding {
  readonly code: string;
  readonly severity: string;
  readonly hazard: boolean;
  readonly message: string;
  readonly range: { readonly start: { readonly line: number; readonly column: number } };
}

test('it finds each finding of the first draft once, hazards too', () => {
  const manifest = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as {
    readonly contributes: { readonly problemMatchers: readonly [Matcher] };
  };
  const [{ pattern }] = manifest.contributes.problemMatchers;
  const folder = makeFolder(Object.fromEntries(starter('first-draft.plant')));
  try {
    const { out } = folder.run('check', 'first-draft.plant');
    const { plants } = JSON.parse(folder.run('check', '--format', 'json', 'first-draft.plant').out) as Report;
    const regexp = new RegExp(pattern.regexp);
    const matched = out.split(/\r?\n/).flatMap(line => {
      const found = regexp.exec(line);
      return found === null ? [] : [[...found]];
    });
    const parts = ['file', 'line', 'column', 'severity', 'code', 'message'] as const;
    const wanted = plants.flatMap(({ path: file, findings }) =>
      findings.map(({ range: { start }, severity, code, hazard, message }) => {
        const words = hazard ? `hazard: ${message}` : message;
        return [file, String(start.line), String(start.column), severity, code, words];
      }),
    );
    expect(plants.flatMap(({ findings }) => findings.filter(({ hazard }) => hazard)).length).toBeGreaterThan(0);
    expect(matched.map(found => parts.map(part => found[pattern[part]]))).toEqual(wanted);
  } finally {
    folder.remove();
  }
});
