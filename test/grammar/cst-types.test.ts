// The generated types of the concrete tree are those of the grammar as it is; run with -u to renew them.

import { expect, it } from 'vitest';
import { buildParser, cstTypes } from '../../grammar/parser.ts';
import { buildLexer } from '../../grammar/tokens.ts';

it('the generated types are fresh', async () => {
  await expect(cstTypes(buildParser(true))).toMatchFileSnapshot('../../grammar/cst.generated.ts');
});

it('the grammar and the lexer pass the validation that production skips', () => {
  expect(() => buildParser(false)).not.toThrow();
  expect(buildLexer(false).lexerDefinitionErrors).toEqual([]);
});
