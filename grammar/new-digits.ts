// A declaration in which nothing but the digits of one number was edited: known without being read again.
import type { Declaration, NumberLiteral } from './ast.ts';

/** What was edited: where that lies in the text before, and by how much the text has become longer. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly moved: number;
}

const plain = /\d+(?:_\d+)*(?:\.\d+(?:_\d+)*)?/y;
/** Characters of a number that surely is finite. */
const longest = 300;
/** In front of digits that may become part of a day. */
const dayGoesOn = '-';
/** Behind digits that may become part of a day, or are part of a number with an exponent. */
const goesOn = /[eE-]/;

/** Undefined where the edit is another, or it is not certain that it is not. */
export function withNewDigits(
  declaration: Declaration,
  before: string,
  text: string,
  edit: Edit,
): Declaration | undefined {
  const literal = literalAround(declaration, edit);
  if (literal === undefined) return undefined;
  const { start } = literal;
  const end = start + (digitsAt(before, start)?.length ?? Number.NaN);
  if (!(edit.end <= end) || before.charAt(start - 1) === dayGoesOn || goesOn.test(before.charAt(end))) return undefined;
  const digits = digitsAt(text, start);
  if (digits?.length !== end + edit.moved - start || digits.length > longest) return undefined;
  return renewed(declaration, literal, Number(digits.replaceAll('_', '')), edit.moved);
}

function digitsAt(text: string, start: number): string | undefined {
  plain.lastIndex = start;
  return plain.exec(text)?.[0];
}

/** A sign would stand at its start, and may decide what is said of the number. */
function literalAround(node: unknown, edit: Edit): NumberLiteral | undefined {
  if (typeof node !== 'object' || node === null) return undefined;
  if ('start' in node && 'end' in node) {
    const { start, end } = node as NumberLiteral;
    if (edit.start < start || end < edit.end) return undefined;
    if ((node as NumberLiteral).type === 'number') return node as NumberLiteral;
  }
  for (const part of Array.isArray(node) ? node : Object.values(node)) {
    const found = literalAround(part, edit);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The same with another value of a literal, and what stands behind it moved. What stands before is the same object. */
function renewed<Node>(node: Node, literal: NumberLiteral, value: number, moved: number): Node {
  const number: NumberLiteral = {
    ...literal,
    end: literal.end + moved,
    value,
    unit: literal.unit && { ...literal.unit, start: literal.unit.start + moved, end: literal.unit.end + moved },
  };
  const renew = (one: unknown): unknown => {
    if (typeof one !== 'object' || one === null) return one;
    if (Array.isArray(one)) return renewAll(one);
    const { start, end, type } = one as NumberLiteral;
    if (end <= literal.start || (moved === 0 && start > literal.start)) return one;
    // Both deviations of a tolerance may stand there.
    if (type === 'number' && start === literal.start) return number;
    const copy: Record<string, unknown> = { ...one };
    for (const key in copy) {
      if (key === 'end') copy[key] = end + moved;
      else if (key === 'start') copy[key] = start > literal.start ? start + moved : start;
      else copy[key] = renew(copy[key]);
    }
    return copy;
  };
  const renewAll = (all: readonly unknown[]): readonly unknown[] => {
    let same = true;
    const made = all.map(one => {
      const now = renew(one);
      if (now !== one) same = false;
      return now;
    });
    return same ? all : made;
  };
  return renew(node) as Node;
}
