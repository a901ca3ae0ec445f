// Makes damaged files out of sound ones, for the tests that ask what the grammar does with them.

import fc from 'fast-check';
import { LineEnd, lex } from '../../grammar/tokens.ts';

interface Damage {
  readonly kind: 'delete' | 'repeat' | 'swap' | 'insert' | 'blank' | 'split';
  readonly at: number;
  readonly text: string;
}

const pieces = [
  '\n',
  '\n\n\n',
  '  \t',
  ' # why\n',
  '\n## what\n',
  '{',
  '}',
  '(',
  ')',
  ',',
  '=',
  '-',
  '+1 V -2 V',
  '±',
  '->',
  '"',
  '\\',
  '..',
  '5,8',
  'grid',
  'x',
  'is',
  'from',
  '°',
  '^',
  '\u0000',
  '\u00a0',
  '\ud800',
  '\r\n',
  'curve soc { 0 1 }',
  'columns 1, 2',
  'ohm',
];

/** A sample with up to `most` damages, each at some token of it. */
export function mutants(samples: readonly string[], most: number): fc.Arbitrary<string> {
  const damage: fc.Arbitrary<Damage> = fc.record({
    kind: fc.constantFrom('delete', 'repeat', 'swap', 'insert', 'blank', 'split'),
    at: fc.nat(10_000),
    text: fc.constantFrom(...pieces),
  });
  return fc
    .tuple(fc.constantFrom(...samples), fc.array(damage, { maxLength: most }))
    .map(([sample, damages]) => damages.reduce(apply, sample));
}

function apply(text: string, { kind, at, text: piece }: Damage): string {
  const tokens = lex(text);
  const token = tokens[at % Math.max(tokens.length, 1)];
  const next = tokens[(at + 1) % Math.max(tokens.length, 1)];
  if (token === undefined || next === undefined) return text + piece;
  const start = token.startOffset;
  const end = start + token.image.length;
  if (kind === 'delete') return text.slice(0, start) + text.slice(end);
  if (kind === 'repeat') return `${text.slice(0, end)} ${token.image}${text.slice(end)}`;
  if (kind === 'insert') return text.slice(0, start) + piece + text.slice(start);
  if (kind === 'blank') return `${text.slice(0, start)}  ${text.slice(start)}`;
  if (kind === 'split') return `${text.slice(0, start)}\n  ${text.slice(start)}`;
  if (next.startOffset < end || token.tokenType === LineEnd) return text;
  const between = text.slice(end, next.startOffset);
  return text.slice(0, start) + next.image + between + token.image + text.slice(next.startOffset + next.image.length);
}
