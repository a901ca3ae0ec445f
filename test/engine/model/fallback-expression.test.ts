// Fallbacks are texts of the language: what the short way makes of them is what the parser makes of them.
import { expect, test } from 'vitest';
import { kinds } from '../../../engine/kinds/index.ts';
import { fallbackExpression } from '../../../engine/model/fallback-expression.ts';
import type { Expression } from '../../../grammar/ast.ts';
import { parse } from '../../../grammar/parse.ts';

const lead = 'let fallback = ';
const texts = kinds.flatMap(({ properties }) => properties.flatMap(({ fallback }) => fallback?.text ?? []));

/** With places from its own beginning. */
function parsed(text: string): unknown {
  const declaration = parse(`${lead}${text}\n`).chunks[0]?.chunk.declaration;
  if (declaration?.type !== 'let') throw new Error(`\`${text}\` is not in the language`);
  return moved(declaration.value, -lead.length);
}

function moved(node: unknown, by: number): unknown {
  if (Array.isArray(node)) return node.map(one => moved(one, by));
  if (typeof node !== 'object' || node === null) return node;
  return Object.fromEntries(
    Object.entries(node).map(([key, value]) => {
      return [key, key === 'start' || key === 'end' ? (value as number) + by : moved(value, by)];
    }),
  );
}

test.each([...new Set([...texts, '-20 °C', '0.08 ohm/km', '12'])])('%s', text => {
  const expression = fallbackExpression(text) as Expression;
  // The parser's own way out counts from where its text begins.
  const isShort = expression.type === 'number' || expression.type === 'reference';
  expect(isShort ? expression : moved(expression, -lead.length)).toEqual(parsed(text));
});

test('what is no expression is none', () => {
  expect(fallbackExpression('5 %% 3')).toBeUndefined();
});
