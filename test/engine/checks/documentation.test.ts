// Every code is documented, and its two texts run: the bad one shows exactly this code, the mended one does not.
import { describe, expect, it } from 'vitest';
import { codes } from '../../../engine/checks/codes.ts';
import { differing, documentationOf, exampleOf } from '../../../engine/checks/documentation.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { checks } from '../../../engine/checks/index.ts';
import { toldWithoutCheck } from '../../../engine/checks/without-check.ts';
import { analysed, complaints, findingsOf } from '../../kit/plants.ts';

const today = '2026-11-25';
/** A sound plant leaves some defaults to the tool: here the note on the component that was completed goes. */
const assumed = 'assumed_by_tool';

const lines = (source: string) => complaints(analysed(source, today)).map(({ code, message }) => `${code}: ${message}`);

describe.each(codes)('%s', code => {
  const documentation = documentationOf(code);
  const { bad, mended } = exampleOf(documentation);

  it('has a title, says why, what to do, and what it rests on', () => {
    expect(documentation.title).toMatch(/^\p{Lu}.*[^.!?\s]$/u);
    expect(documentation.why).toMatch(/^\p{Lu}.{20,}[.?]$/u);
    expect(documentation.remedy).toMatch(/^\p{Lu}.{8,}\.$/u);
    expect(documentation.source.trim()).toMatch(/^.{3,}[^.]$/u);
  });

  it('replaces only what stands in the sound example', () => {
    for (const [from] of documentation.bad) expect(soundExample).toContain(from);
    for (const [from] of documentation.mended ?? []) expect(soundExample).toContain(from);
  });

  it('is what its bad text shows, and no other error or warning', () => {
    expect(findingsOf(analysed(bad, today), code).length).toBeGreaterThan(0);
    expect(lines(bad).filter(line => !line.startsWith(`${code}: `))).toEqual([]);
  });

  it('is gone from its mended text, and nothing has come', () => {
    const [before, after] = [bad, mended].map(text => findingsOf(analysed(text, today), code));
    const gone = before!.filter(({ subject }) => !after!.some(left => left.subject === subject));
    expect(gone.length).toBeGreaterThan(0);
    if (code !== assumed) expect(after!.map(({ message }) => message)).toEqual([]);
    expect(lines(mended)).toEqual([]);
  });

  it('shows what was mended', () => {
    expect(differing(bad, mended) + differing(mended, bad)).not.toBe('');
  });
});

it('no code is documented twice', () => {
  const documented = [...checks, ...toldWithoutCheck].map(({ code }) => code);
  expect([...documented].sort()).toEqual([...codes].sort());
});
