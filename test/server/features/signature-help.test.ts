// Signature help: which function or curve the cursor is in, and at which of its parts.
import { expect, test } from 'vitest';
import { parse } from '../../../grammar/parse.ts';
import { signatureHelp } from '../../../server/features/signature-help.ts';
import { readMarked } from '../../kit/marked.ts';

function help(marked: string): string | undefined {
  const { text, offset } = readMarked(marked);
  const found = signatureHelp(parse(text), offset);
  return found && `${found.label} at ${found.parameters[found.active]?.label}`;
}

test.each([
  ['let a = max(‸', 'max(value, …) at value'],
  ['let a = max(3 V, ‸)', 'max(value, …) at …'],
  ['let a = max(3 V, abs(2 V - ‸))', 'abs(value) at value'],
  ['let a = max(3 V, abs(2 V), 4‸ V)', 'max(value, …) at …'],
  ['let a = max((3 V + ‸', 'max(value, …) at value'],
  ['let a = max(3 V)‸', undefined],
  ['let a = (3 V + ‸', undefined],
  ['let a = 3 V from "max(‸', undefined],
])('%s', (marked, expected) => {
  expect(help(`${marked}\n`)).toBe(expected);
});

test.each([
  ['resistance = curve ‸', 0],
  ['resistance = curve temperature ‸', 1],
  ['resistance = curve temperature smooth ‸', 2],
  ['resistance = curve temperature { 0 °C ‸', 2],
])('battery: %s', (marked, active) => {
  const { text, offset } = readMarked(`battery B1 {\n  ${marked}\n}\n`);
  const found = signatureHelp(parse(text), offset);
  expect(found?.active).toBe(active);
  expect(found?.parameters.map(({ label }) => label)).toEqual([
    expect.stringContaining('temperature'),
    '[smooth | log]',
    '{ x y … }',
  ]);
});

test('per cell is offered where the property may be given so', () => {
  const found = help('battery B1 {\n  open_circuit_voltage = curve soc ‸\n}\n');
  expect(found).toMatch(
    /^curve soc.* \[per cell \| per string\] \[smooth \| log\] \{ x y … \} at \[per cell \| per string\]$/,
  );
});

test('behind the curve there is nothing to help with', () => {
  expect(help('battery B1 {\n  resistance = curve temperature { 0 °C 1 Ω }‸\n}\n')).toBeUndefined();
});
