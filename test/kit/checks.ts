// What every check must show: its bad example gives exactly its finding, the fixes that it offers hold what they say.
import { describe, expect, it } from 'vitest';
import type { Check } from '../../engine/checks/check.ts';
import { soundExample } from '../../engine/checks/example.ts';
import {
  type Analysed,
  analysed,
  complaintCodes,
  complaints,
  type Edit,
  edited,
  findingsOf,
  fixed,
  theFinding,
} from './plants.ts';

/** The sound example with edits. */
export function sound(...edits: readonly Edit[]): Analysed {
  return analysed(edited(soundExample, ...edits));
}

/** The sound example with what makes a check speak, and further edits. */
export function bad(check: Check, ...edits: readonly Edit[]): Analysed {
  return sound(...check.bad, ...edits);
}

/** Edits that take duties out of the sound example. */
export const without = (...duties: readonly string[]): readonly Edit[] =>
  duties.map(tag => [new RegExp(`^duty ${tag} .*$`, 'm').exec(soundExample)![0], ''] as const);

/** Which of a check's findings the bad example raises: `many` where it speaks once a component. */
export interface Shown {
  readonly severity: 'error' | 'warning' | 'note';
  readonly many?: true;
  /** A list of names tells enough; all others carry two numbers. */
  readonly numbers?: 0;
}

export function showsItself(check: Check, { severity, many, numbers }: Shown): void {
  describe(`${check.code}: what every check must show`, () => {
    it('keeps quiet on the sound plant', () => {
      expect(complaints(sound()).map(finding => finding.message)).toEqual([]);
    });

    it('alone complains of its bad example', () => {
      const plant = bad(check);
      const found = findingsOf(plant, check.code);
      expect(found.length).toBeGreaterThan(0);
      if (many !== true) expect(found).toHaveLength(1);
      expect(found.map(finding => finding.severity)).toContain(severity);
      expect(complaints(plant).filter(finding => finding.code !== check.code)).toEqual([]);
      if (severity === 'note') expect(complaintCodes(plant)).toEqual([]);
    });

    it('says what it found with numbers, in whole sentences, and where', () => {
      for (const finding of findingsOf(bad(check), check.code)) {
        expect(finding.message).toMatch(/^\S.*[.]$/s);
        if (numbers !== 0) expect(finding.message.match(/-?\d[\d.]*(e-?\d+)?\s?\S+/g)?.length).toBeGreaterThan(1);
        expect(finding.place.end).toBeGreaterThan(finding.place.start);
        expect(finding.message).not.toMatch(/NaN|undefined|Infinity|unknown|unlimited| {2}/);
      }
    });

    it('is documented in words of its own, and names its contributors', () => {
      expect(check.code).toMatch(/^[a-z]+(_[a-z]+)*$/);
      expect(['voltage', 'current', 'energy', 'filter', 'protection', 'surroundings', 'facts']).toContain(check.group);
      for (const text of [check.title, check.why, check.remedy]) expect(text).toMatch(/^\p{Lu}\S* .*\S/u);
      expect(check.source).toMatch(/\S{3}/);
      for (const { related } of findingsOf(bad(check), check.code))
        for (const { message } of related) expect(message).toMatch(/^\S.+[.]$/);
    });

    it('points into the plant, not into the part, where a part brought the fact', () => {
      const plant = analysed(throughParts(edited(soundExample, ...check.bad)));
      for (const finding of plant.analysis.findings) expect(finding.place.path).toBe('plant.plant');
      expect(findingsOf(plant, check.code).length).toBeGreaterThan(0);
    });

    it('offers fixes that remove the finding and add none', () => {
      expectFixesToHold(bad(check), check.code);
    });
  });
}

/** Makes each fix of each finding with this code in turn; returns how many there were. */
export function expectFixesToHold(plant: Analysed, code: string): number {
  let count = 0;
  const before = new Set(complaints(plant).map(identity));
  for (const finding of findingsOf(plant, code)) {
    for (const fix of finding.fixes) {
      count++;
      // A check changes a design, which is for its author to judge.
      expect(fix.safe).toBe(false);
      const after = analysed(fixed(plant.files, fix));
      expect(
        findingsOf(after, code, finding.subject).map(left => left.message),
        `after "${fix.title}"`,
      ).toEqual([]);
      const fresh = complaints(after).filter(left => !before.has(identity(left)));
      expect(
        fresh.map(left => `${left.code}: ${left.message}`),
        `after "${fix.title}"`,
      ).toEqual([]);
    }
  }
  return count;
}

function identity(finding: { readonly code: string; readonly subject: string | undefined }): string {
  return `${finding.code} ${finding.subject}`;
}

/** A severity on either side of a limit: the value just meets it with the first edits, and misses it with the second. */
export function expectLimit(
  code: string,
  holds: readonly Edit[],
  fails: readonly Edit[],
  severity: 'error' | 'warning' | 'note',
): void {
  expect(findingsOf(sound(...holds), code).map(finding => finding.message)).toEqual([]);
  expect(theFinding(sound(...fails), code).severity).toBe(severity);
}

/** The same plant with transformer, filter, converter and battery taken from parts in a file of their own. */
export function throughParts(text: string): Map<string, string> {
  const parts: string[] = [];
  const plant = text.replace(
    /^(transformer|filter|converter|battery) (\w+) (\{\n[\s\S]*?\n\})$/gm,
    (_, kind: string, tag: string, block: string) => {
      parts.push(`part ${kind} ${tag}Part ${block}`);
      return `${kind} ${tag} is ${tag}Part`;
    },
  );
  if (parts.length < 4) throw new Error(`${parts.length} parts found`);
  return new Map([
    ['plant.plant', `use "parts.plant"\n${plant}`],
    ['parts.plant', parts.join('\n\n')],
  ]);
}
