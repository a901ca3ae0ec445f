// No standard and no textbook is named as a source without a word on how sure that is: read where, or from memory.
import { describe, expect, it } from 'vitest';
import { checks } from '../../engine/checks/index.ts';
import { toldWithoutCheck } from '../../engine/checks/without-check.ts';
import { kinds } from '../../engine/kinds/index.ts';
import { results } from '../../engine/results/index.ts';

/** Read, in whole or as far as it is used; the table or the reference test that holds the figures says where. */
const read = ['EN 50160', 'IEC 60228', 'IACS UR E24', 'Regulation (EU)'];

/** A standard, a law by its number, or one of the books and papers that sources name. */
const work =
  /(?:IEC|IEEE|EN|IACS|ISO|NEC|CISPR|VDE)(?: (?:TR|TS|UR|TIA))? ?[A-Z]?\d+(?:-\d+)*|Regulation \(EU\)|Mohan|Rashid|Holmes|Kolar|Reznik|Liserre/g;
const mark = /from memory|common practice, no source|seen in |read in |as open tables have it/;

/** Clauses that name a work that nobody has read, and leave it at that. */
function unmarked(text: string): readonly string[] {
  if (text.includes('all from memory')) return [];
  const clauses = text.split(/; (?![^(]*\))/);
  const names = (clause: string) => clause.match(work) ?? [];
  return clauses.filter(clause => !mark.test(clause) && names(clause).some(name => !read.includes(name)));
}

const properties = kinds.flatMap(kind =>
  kind.properties.map(property => ({ path: `${kind.name}.${property.name}`, property })),
);
const sources = [
  ...results.map(({ on, name, source }) => ({ of: `${on}.${name}`, texts: [source] })),
  ...[...checks, ...toldWithoutCheck].map(({ code, source }) => ({ of: code, texts: [source] })),
  ...properties.map(({ path, property: { fallback, toleranceFallback, otherwise } }) => ({
    of: path,
    texts: [fallback?.reason, toleranceFallback?.reason, toleranceFallback?.from?.reason, otherwise],
  })),
];

describe('a source', () => {
  it.each([
    ['IEC 60076-1, voltage ratio', ['IEC 60076-1, voltage ratio']],
    ['IEC 60076-1, voltage ratio (from memory)', []],
    ['IEC 60228 at 20 °C; skin effect IEC 60287-1-1', ['skin effect IEC 60287-1-1']],
    ['practice `ripple`: 30 %, common practice, no source; Rashid, ch. 5', ['Rashid, ch. 5']],
    ['IEEE 519 (2022, from memory; IEEE 1547 first)', []],
    ['circuit theory', []],
  ])('is looked at clause by clause: %s', (text, found) => {
    expect(unmarked(text)).toEqual(found);
  });

  it('of a result, a finding or a default says how sure it is where it names a work', () => {
    const named = sources.flatMap(({ of, texts }) =>
      texts.filter(text => text !== undefined).map(text => ({ of, text })),
    );
    expect(named.filter(({ text }) => text.match(work) !== null).length).toBeGreaterThan(40);
    expect(named.flatMap(({ of, text }) => unmarked(text).map(clause => `${of}: ${clause}`))).toEqual([]);
  });
});
