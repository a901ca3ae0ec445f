// The reference shows all that the tables know, and nothing that breaks its Markdown.
import { describe, expect, test } from 'vitest';
import { kinds } from '../../../engine/kinds/index.ts';
import type { Property } from '../../../engine/kinds/kind.ts';
import { kindPage, propertySection, referencePages, snippetText } from '../../../engine/kinds/reference.ts';

describe('the pages', () => {
  test('are one for each kind, and an index that leads to them', () => {
    const pages = referencePages();
    expect([...pages.keys()]).toEqual(['index.md', ...kinds.map(kind => `${kind.name}.md`)]);
    for (const kind of kinds) {
      expect(pages.get('index.md')).toContain(`[${kind.name}](${kind.name}.md)`);
      expect(pages.get(`${kind.name}.md`)).toBe(kindPage(kind));
    }
  });

  test.each(kinds)('$name has its example, and each property with meaning, default, reason and example', kind => {
    const page = kindPage(kind);
    expect(page).toContain(snippetText(kind.snippet).trimEnd());
    for (const property of kind.properties) {
      expect(page).toContain(`\n### ${property.name}\n\n${property.meaning}\n`);
      expect(page).toContain(`\n${property.name} = ${property.example}\n`);
      if (property.fallback === undefined) continue;
      expect(page).toContain(`\`${property.fallback.text}\` (${property.fallback.reason})`);
    }
  });

  test.each(kinds)('$name has tables whose rows are all as wide as their head', kind => {
    const rows = kindPage(kind)
      .split('\n')
      .filter(line => line.startsWith('|'));
    expect(rows.length).toBe(kind.properties.length + 2);
    for (const row of rows) expect(row.match(/(?<!\\)\|/gu)).toHaveLength(5);
  });

  test.each(kinds)('$name says where nothing is computed', kind => {
    const sentence = 'no result uses it yet';
    expect(kindPage(kind).split('\n## ')[0]?.includes(sentence)).toBe(kind.notEvaluated === true);
    for (const property of kind.properties)
      expect(propertySection(property).includes(sentence)).toBe(property.notEvaluated === true);
  });
});

describe('a property', () => {
  const property: Property = {
    name: 'weight_of_rope',
    meaning: 'Mass of the rope per span.',
    type: {
      is: 'quantity',
      dimension: 'active_power',
      or: ['ratio'],
      forms: ['number', 'curve'],
      axes: [
        { name: 'soc', dimension: 'ratio' },
        { name: 'temperature', dimension: 'temperature' },
      ],
      clauses: { for: 'time', delivering: undefined },
      least: { value: 0, exclusive: true },
      greatest: { value: 5000, exclusive: false },
    },
    need: 'expected',
    fallback: { text: '2 kW', reason: 'common practice, no source' },
    example: '3 kW for 2 s',
  };

  test('reads like a data sheet', () => {
    expect(propertySection(property)).toBe(`Mass of the rope per span.

- Value: an active power or a ratio, as one value or a curve over \`soc\` and \`temperature\`; \`for\` a time or \`delivering\` may follow.
- Possible: more than 0 kW, at most 5 kW.
- Expected: where it is missing, a note says what was assumed.
- Default: \`2 kW\` (common practice, no source).

\`\`\`plant
weight_of_rope = 3 kW for 2 s
\`\`\``);
  });

  test('a choice, a reference and a text say what they take', () => {
    const plain = { ...property, fallback: { text: 'a', reason: 'b' } };
    expect(propertySection({ ...plain, type: { is: 'choice', choices: ['tn', 'tt', 'it'] } })).toContain(
      '- Value: one of `tn`, `tt` or `it`.',
    );
    expect(propertySection({ ...plain, type: { is: 'reference', kinds: ['grid'] } })).toContain(
      'the name of a `grid`.',
    );
    expect(propertySection({ ...plain, type: { is: 'text' } })).toContain('a text in quotation marks.');
  });
});

test('a snippet as text takes defaults and first choices', () => {
  const snippet = ['bus $', '{1:N1} { a = $', '{2|x,y|} .. $', '{3:5 °C} }'].join('');
  expect(snippetText(snippet)).toBe('bus N1 { a = x .. 5 °C }');
});
