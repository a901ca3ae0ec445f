// The meanings of words: one for each that the language has, with an example that it reads.
import { describe, expect, test } from 'vitest';
import { parse } from '../../../grammar/parse.ts';
import { FREE_WORDS, FUNCTIONS, isKind, KEYWORDS, PER_WORDS } from '../../../grammar/words.ts';
import { referencePage } from '../../../server/render/reference.ts';
import { meaningOf } from '../../../server/render/words.ts';

const words = [...KEYWORDS, ...FREE_WORDS, ...FUNCTIONS, ...PER_WORDS].filter(word => !isKind(word));

describe.each([...words, '±', '..', '->'])('%s', word => {
  const [, means = '', example = ''] = /^\*\*.+\*\*: (.+)\n\nExample: `(.+)`$/.exec(meaningOf(word) ?? '') ?? [];

  test('is explained in a sentence, and stands on the page', () => {
    expect(means).toMatch(/^[A-Z].+\.$/);
    expect(referencePage('words.md')).toContain(`\n- **\`${word}\`**: ${means}  \n  \`${example}\``);
  });

  test('has an example in which it stands, and which can be read', () => {
    expect(example).toContain(word);
    // What is left out is marked; a fact is read in a block, an expression or a chain where it belongs.
    const whole = example.replace(/ …$/, ' until 2027-06-30 because "x"');
    const wrapped = [whole, `part battery P { ${whole} }`, `let a = ${whole}`, `part battery P { a = ${whole} }`];
    const read = [...wrapped, `connect ${whole}`].map(text =>
      parse(`${text}\n`).chunks.flatMap(one => one.chunk.problems),
    );
    expect(read.some(problems => problems.length === 0)).toBe(true);
  });
});

test('what is no word of the language has no meaning', () => {
  for (const word of ['', 'nonsense', 'constructor', 'MAIN']) expect(meaningOf(word)).toBeUndefined();
});
