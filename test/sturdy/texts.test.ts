// Texts that nobody writes on purpose: other line ends, marks, garbage, huge files, endless nesting.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../engine/analysis.ts';
import { columnsComputed } from '../../engine/analyze.ts';
import { results } from '../../engine/results/index.ts';
import { analyseText, flawsOf, flawsOfValues, lengths, rootOf, starter, Workspace } from './kit.ts';

const sample = starter.get('valley-station.plant')!;

const findingsOf = ({ findings }: Analysis): readonly string[] =>
  findings.map(({ code, severity, subject, message }) => `${severity} ${code} ${subject}: ${message}`);

function soundly(text: string): Analysis {
  const analysis = analyseText(text);
  const flaws = flawsOf(analysis, path => (path === 'plant.plant' ? text.length : undefined));
  expect(flaws).toEqual([]);
  return analysis;
}

describe('line ends and marks', () => {
  it.each([...starter])('%s has the same findings with other line ends', (path, text) => {
    const workspace = new Workspace(rootOf(path));
    const plain = findingsOf(workspace.with(path, text));
    expect(findingsOf(workspace.with(path, text.replaceAll('\n', '\r\n')))).toEqual(plain);
    expect(findingsOf(workspace.with(path, text.replaceAll('\n', '\r')))).toEqual(plain);
  });

  it.each([...starter])('%s has the same findings with a mistake and other line ends', (path, text) => {
    const workspace = new Workspace(rootOf(path));
    const flawed = text.replace(/ = (\d+) (\S+)/, ' = $1 $1 $2').replace('}', '');
    expect(findingsOf(workspace.with(path, flawed.replaceAll('\n', '\r\n')))).toEqual(
      findingsOf(workspace.with(path, flawed)),
    );
  });

  it('a byte order mark in front is nothing', () => {
    const workspace = new Workspace('valley-station.plant');
    const plain = findingsOf(workspace.with('valley-station.plant', sample));
    expect(findingsOf(workspace.with('valley-station.plant', `\ufeff${sample}`))).toEqual(plain);
  });
});

describe('garbage', () => {
  it('of any kind is analysed', () => {
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 300 }),
      fc.string({ unit: 'grapheme', maxLength: 300 }),
      fc.uint8Array({ maxLength: 300 }).map(bytes => String.fromCharCode(...bytes)),
    );
    fc.assert(
      fc.property(text, garbage => {
        soundly(garbage);
      }),
      { numRuns: 500, seed: 2026 },
    );
  });

  it.each([
    ['nothing at all', '\u0000'],
    ['half a character', '\ud800'],
    ['the other half', '\udc00'],
    ['a mark that joins', '\u200d'],
    ['a mark that turns round', '\u202e'],
    ['a very small number', '1e-400'],
    ['a very large number', '1e400'],
    ['a quote', '"'],
    ['a brace', '{'],
    ['the other brace', '}'],
  ])('%s at every place of the sample', (_, piece) => {
    const workspace = new Workspace('valley-station.plant');
    const flaws: string[] = [];
    for (let at = 0; at <= sample.length; at += 7) {
      const text = sample.slice(0, at) + piece + sample.slice(at);
      const analysis = workspace.with('valley-station.plant', text);
      flaws.push(...flawsOf(analysis, lengths('valley-station.plant', text)));
      if (at % 70 === 0) flaws.push(...flawsOfValues(analysis));
    }
    expect(flaws).toEqual([]);
  });

  it('in place of each number of the sample', () => {
    const workspace = new Workspace('valley-station.plant');
    const flaws: string[] = [];
    for (const { index, 0: number } of sample.matchAll(/\d+(\.\d+)?/g)) {
      for (const other of ['0', '-1', '1e-300', '1e300', '1e308', '0.000001', '999999999']) {
        const text = sample.slice(0, index) + other + sample.slice(index + number.length);
        const analysis = workspace.with('valley-station.plant', text);
        for (const flaw of [...flawsOf(analysis, lengths('valley-station.plant', text)), ...flawsOfValues(analysis)])
          flaws.push(`${other} for ${number} at ${index}: ${flaw}`);
      }
    }
    expect(flaws).toEqual([]);
  });
});

describe('size', () => {
  it('five million characters of anything', () => {
    const letters = 'grid MAIN { voltage = 400 V }\n';
    for (const text of ['x'.repeat(5e6), '{'.repeat(5e6), letters.repeat(5e6 / 30)]) soundly(text);
  }, 300_000);

  it('ten thousand declarations', () => {
    const cables = Array.from(
      { length: 10_000 },
      (_, index) => `cable W${index} { length = 5 m, cross_section = 95 mm² }`,
    );
    const analysis = soundly(`${sample}\n${cables.join('\n')}\n`);
    expect(analysis.outline.length).toBeGreaterThan(10_000);
    // What is computed grows with the plant's components, cases and duties, and with nothing else.
    expect(columnsComputed(analysis)).toBeLessThan(10_050 * results.length * 4 * 3);
  }, 300_000);

  it('ten thousand values made from each other', () => {
    const forward = Array.from({ length: 10_000 }, (_, index) => `let a${index + 1} = a${index} + 1`);
    expect(soundly(`let a0 = 1\n${forward.join('\n')}\n`).findings).toEqual([]);
    const backward = soundly(`${forward.toReversed().join('\n')}\nlet a0 = 1\n`).findings;
    expect(new Set(backward.map(finding => finding.message)).size).toBe(1);
    expect(backward[0]?.message).toContain('leads through more than 400 values');
  });

  it('values that double each other', () => {
    const doubled = (first: string) =>
      `let a0 = ${first}\n${Array.from({ length: 60 }, (_, index) => `let a${index + 1} = a${index} + a${index}`).join('\n')}\n`;
    expect(soundly(doubled('1')).findings).toEqual([]);
    expect(soundly(doubled('1 .. 2')).findings.map(finding => finding.code)).toEqual(['wrong_value']);
  });

  it('more spreads than can be looked at', () => {
    const sum = (count: number) => `let x = ${Array.from({ length: count }, () => '(1 .. 2)').join(' + ')}\n`;
    expect(soundly(sum(8)).findings).toEqual([]);
    expect(soundly(sum(9)).findings.map(finding => finding.code)).toEqual(['wrong_value']);
  });
});

describe('nesting', () => {
  const deep = 10_000;
  it.each([
    ['parentheses', `let x = ${'('.repeat(deep)}1${')'.repeat(deep)}`],
    ['parentheses that stay open', `let x = ${'('.repeat(deep)}`],
    ['signs', `let x = ${'-'.repeat(deep)}1`],
    ['sums', `let x = ${'1 + '.repeat(deep)}1`],
    ['powers', `let x = ${'2 ^ '.repeat(deep)}1`],
    ['ranges', `let x = ${'1 .. '.repeat(deep)}1`],
    ['calls', `let x = ${'abs('.repeat(deep)}1${')'.repeat(deep)}`],
    ['dots', `let x = a${'.b'.repeat(deep)}`],
    ['braces', `grid X ${'{'.repeat(deep)}`],
    ['blocks', `grid X ${'{ a '.repeat(deep)}${'}'.repeat(deep)}`],
    ['rows', `catalogue cable C ${'{ a '.repeat(deep)}`],
    ['curves', `let x = ${'curve soc { '.repeat(deep)}`],
    ['parts', Array.from({ length: deep }, (_, index) => `part cable A${index} is A${index + 1}`).join('\n')],
    ['cases', `plant P\n${Array.from({ length: deep }, (_, index) => `case a${index} is a${index + 1}`).join('\n')}`],
    [
      'facts',
      `plant P\n${Array.from({ length: 2000 }, (_, index) => `bus g${index} { voltage = g${index + 1}.voltage }`).join('\n')}`,
    ],
  ])('of %s ends with a finding', (_, text) => {
    const { findings } = soundly(`${text}\n`);
    expect(findings.filter(({ severity }) => severity === 'error').length).toBeGreaterThan(0);
    for (const { message } of findings) expect(message.length).toBeLessThan(1000);
  });
});
