// What a kind takes for granted, as an expression: most are a word or one number, for which a start need not run the parser.
import type { Expression } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';

const word = /^[a-z_]+$/;
const quantity = /^(-?\d+(?:\.\d+)?)(?: (\S+))?$/;

/** Undefined where the text is no expression of the language. Places are those in the text itself. */
export function fallbackExpression(text: string): Expression | undefined {
  const whole = { start: 0, end: text.length };
  if (word.test(text)) return { type: 'reference', ...whole, path: [{ text, ...whole }] };
  const [, number, unit] = quantity.exec(text) ?? [];
  if (number === undefined) return parsed(text);
  const start = text.length - (unit?.length ?? 0);
  const unitText = unit === undefined ? undefined : { text: unit, start, end: text.length };
  return { type: 'number', ...whole, value: Number(number), unit: unitText };
}

function parsed(text: string): Expression | undefined {
  const declaration = parse(`let fallback = ${text}\n`).chunks[0]?.chunk.declaration;
  return declaration?.type === 'let' ? declaration.value : undefined;
}
