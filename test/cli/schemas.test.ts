// The published schemas of the machine-readable output: what a program of today reads stays readable, or the version
// goes up. `schemas/NAME-VERSION.json` beside this file is what was promised.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { outputVersions, publishedSchemas } from '../../server/cli/schemas.ts';

const folder = path.join(import.meta.dirname, 'schemas');
const published = publishedSchemas();

type Schema = Readonly<Record<string, unknown>>;

const isSchema = (value: unknown): value is Schema =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function promised(name: string): unknown {
  return JSON.parse(readFileSync(path.join(folder, `${name}.json`), 'utf8'));
}

/** What a reader who trusts `before` would stumble over in output after `after`. */
function breaks(before: unknown, after: unknown, at = ''): readonly string[] {
  if (!isSchema(before) || !isSchema(after))
    return JSON.stringify(before) === JSON.stringify(after) ? [] : [`${at}: another value`];
  const kinds = ['type', 'const', 'enum'].filter(word => JSON.stringify(before[word]) !== JSON.stringify(after[word]));
  const alternatives = [listOf(before, 'anyOf'), listOf(after, 'anyOf')] as const;
  return [
    ...kinds.map(word => `${at}: another ${word}`),
    ...(alternatives[0].length === alternatives[1].length ? [] : [`${at}: other alternatives`]),
    ...alternatives[0].flatMap((one, index) => breaks(one, alternatives[1][index], `${at}|${index}`)),
    ...(isSchema(before['items']) ? breaks(before['items'], after['items'], `${at}[]`) : []),
    ...membersBreak(before, after, at),
  ];
}

/** New members alone break nothing. */
function membersBreak(before: Schema, after: Schema, at: string): readonly string[] {
  const [old, now] = [before['properties'], after['properties']];
  if (!isSchema(old)) return [];
  if (!isSchema(now)) return [`${at}: no members any more`];
  const required = new Set(listOf(after, 'required'));
  return Object.entries(old).flatMap(([name, member]) => {
    if (!(name in now)) return [`${at}.${name}: gone`];
    const optional =
      listOf(before, 'required').includes(name) && !required.has(name)
        ? [`${at}.${name}: no longer sure to be there`]
        : [];
    return [...optional, ...breaks(member, now[name], `${at}.${name}`)];
  });
}

function listOf(schema: Schema, word: string): readonly unknown[] {
  const list = schema[word];
  return Array.isArray(list) ? list : [];
}

describe.each(Object.entries(published))('the schema of %s', (name, schema) => {
  const version = outputVersions[name];

  test('says what it is, in which version, and forbids no new members', () => {
    expect(schema).toMatchObject({ title: expect.stringContaining(name), description: expect.stringMatching(/\.$/) });
    expect(JSON.stringify(schema)).toContain(`"version":{"type":"number","const":${version}}`);
    expect(JSON.stringify(schema)).not.toContain('"additionalProperties":false');
  });

  test('breaks nothing that was promised under its version', () => {
    expect(breaks(promised(`${name}-${version}`), schema)).toEqual([]);
  });

  test('is promised as it stands: after an addition, write it into its file', () => {
    expect(promised(`${name}-${version}`)).toEqual(schema);
  });
});

test('every promise belongs to a schema that is still published', () => {
  const names = readdirSync(folder).map(file => file.replace(/-\d+\.json$/, ''));
  expect(names.filter(name => !(name in published))).toEqual([]);
});

describe('the comparison of two schemas', () => {
  const schema = {
    type: 'object',
    properties: {
      a: { type: 'string' },
      b: { anyOf: [{ type: 'number' }, { type: 'null' }] },
      c: { type: 'array', items: { enum: ['x'] } },
    },
    required: ['a'],
  };
  const changed = (properties: object, required = ['a']) =>
    breaks(schema, { ...schema, properties: { ...schema.properties, ...properties }, required });

  test('finds what a reader would stumble over', () => {
    expect(changed({ a: { type: 'number' } })).toEqual(['.a: another type']);
    expect(changed({}, [])).toEqual(['.a: no longer sure to be there']);
    expect(changed({ b: { anyOf: [{ type: 'number' }] } })).toContain('.b: other alternatives');
    expect(changed({ c: { type: 'array', items: { enum: ['x', 'y'] } } })).toEqual(['.c[]: another enum']);
    expect(breaks(schema, { ...schema, properties: {} })).toEqual(['.a: gone', '.b: gone', '.c: gone']);
  });

  test('minds no additions', () => expect(changed({ d: { type: 'string' } }, ['a', 'd'])).toEqual([]));
});
