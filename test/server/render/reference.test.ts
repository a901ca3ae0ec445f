// The reference: a page for everything there is, and no link that leads nowhere.
import { describe, expect, test } from 'vitest';
import { codes } from '../../../engine/checks/codes.ts';
import { checks } from '../../../engine/checks/index.ts';
import { kinds } from '../../../engine/kinds/index.ts';
import { results } from '../../../engine/results/index.ts';
import { unitRows } from '../../../engine/units/table.ts';
import { findingPage, listReference, referencePage } from '../../../server/render/reference.ts';

const pages = new Map(listReference().map(({ page }) => [page, referencePage(page) ?? '']));

describe('there is a page', () => {
  test.each(kinds.map(({ name }) => name))('of the kind %s', kind => {
    expect(pages.get(`kinds/${kind}.md`)).toContain(`# ${kind}`);
  });

  test.each(codes)('of the finding %s, which says what it is', code => {
    const [heading, about] = pages.get(findingPage(code))!.split('\n\n');
    expect(heading).toBe(`# ${code}`);
    expect(about).toMatch(/^\S.+\.$/);
  });

  test('with every result and every unit', () => {
    for (const { on, name } of results) expect(pages.get(`results/${on}.md`)).toContain(`## ${name}\n`);
    for (const { symbol } of unitRows) expect(pages.get('units.md')).toContain(symbol);
  });

  test('a check’s page has all that the check says of itself', () => {
    for (const { code, why, remedy } of checks) {
      expect(pages.get(findingPage(code))).toContain(why);
      expect(pages.get(findingPage(code))).toContain(remedy);
    }
  });
});

test('every link leads to a page', () => {
  let links = 0;
  for (const [page, text] of pages) {
    for (const [, target = ''] of text.matchAll(/\]\(([^)]+\.md)\)/g)) {
      links += 1;
      const folder = page.includes('/') ? page.slice(0, page.lastIndexOf('/') + 1) : '';
      expect(pages.has(folder + target), `${page} links to ${target}`).toBe(true);
    }
  }
  expect(links).toBeGreaterThan(codes.length);
});

test('an unknown page is none', () => {
  expect(referencePage('findings/../secrets.md')).toBeUndefined();
});
