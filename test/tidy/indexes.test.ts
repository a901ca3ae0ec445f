// A bundle has no folders: each index lists exactly what stands beside it, and each code is said by somebody.
import { describe, expect, it } from 'vitest';
import { codes, textCodes } from '../../engine/checks/codes.ts';
import { checks } from '../../engine/checks/index.ts';
import { kindByName } from '../../engine/kinds/index.ts';
import { results } from '../../engine/results/index.ts';
import { codeIn, files, importsOf, textOf } from './sources.ts';

const declaring = (folder: string, pattern: RegExp): readonly string[] =>
  codeIn(folder).filter(file => !file.endsWith('/index.ts') && pattern.test(textOf(file)));

const indexed = (folder: string, among: readonly string[]): readonly string[] =>
  importsOf(`${folder}/index.ts`)
    .filter(file => among.includes(file))
    .sort();

describe('the index of checks', () => {
  const declared = declaring('engine/checks', /= defineCheck\(\{/);

  it('lists every check', () => {
    expect(indexed('engine/checks', declared)).toEqual(declared);
    expect(checks).toHaveLength(
      declared.reduce((sum, file) => sum + (textOf(file).match(/= defineCheck\(\{/g)?.length ?? 0), 0),
    );
  });

  it('has one check for each code', () => {
    expect(new Set(checks.map(check => check.code)).size).toBe(checks.length);
  });

  it('is tested, check by check', () => {
    const tests = declared.map(file => `test/${file.replace(/\.ts$/, '.test.ts')}`);
    expect(tests.filter(test => !files.includes(test))).toEqual([]);
  });
});

it('the index of kinds lists every kind', () => {
  const declared = declaring('engine/kinds', /^export const \w+: Kind = \{/m);
  expect(indexed('engine/kinds', declared)).toEqual(declared);
  expect(kindByName.size).toBe(declared.length);
});

describe('the index of results', () => {
  it('lists every family', () => {
    const declared = declaring('engine/results', /^export const \w+Results\b/m);
    expect(indexed('engine/results', declared)).toEqual(declared);
  });

  it('holds every result that a family declares, once', () => {
    const declared = codeIn('engine/results')
      .filter(file => !file.endsWith('/definition.ts'))
      .reduce((sum, file) => sum + (textOf(file).match(/\bdefineResult\(\{/g)?.length ?? 0), 0);
    expect(results).toHaveLength(declared);
    expect(new Set(results.map(result => `${result.on}.${result.name}`)).size).toBe(results.length);
  });
});

describe('the codes', () => {
  const engine = [...codeIn('engine'), ...codeIn('grammar')].filter(file => file !== 'engine/checks/codes.ts');
  const said = (code: string): boolean => engine.some(file => textOf(file).includes(`'${code}'`));

  it('are each said by somebody', () => expect(codes.filter(code => !said(code))).toEqual([]));

  it('are those of the checks, those of the text, and those that the model and acceptances say', () => {
    const others = ['unconnected', 'not_checked', 'accepted', 'acceptance_expired', 'acceptance_unused'];
    const known = new Set<string>([...checks.map(check => check.code), ...textCodes, ...others]);
    expect([...codes].filter(code => !known.has(code))).toEqual([]);
    expect([...known].filter(code => !codes.some(other => other === code))).toEqual([]);
  });

  it('are words', () => expect(codes.filter(code => !/^[a-z]+(_[a-z]+)*$/.test(code))).toEqual([]));
});

describe.each(checks)('the check $code', check => {
  it('has a title without a full stop', () => expect(check.title).toMatch(/^\p{Lu}.*[^.!?\s]$/u));

  it('says why and what to do in sentences', () => {
    expect(check.why).toMatch(/^\p{Lu}.*[.?]$/u);
    expect(check.remedy).toMatch(/^\p{Lu}.*\.$/u);
  });

  it('says where its limit comes from', () => expect(check.source.trim()).toMatch(/^.{3,}[^.]$/u));

  it('has an example that makes it speak', () => expect(check.bad.length).toBeGreaterThan(0));
});
