// The reference: a page for everything there is, and no link that leads nowhere.
import { describe, expect, test } from 'vitest';
import { codes } from '../../../engine/checks/codes.ts';
import { documentationOf, exampleOf } from '../../../engine/checks/documentation.ts';
import { kinds } from '../../../engine/kinds/index.ts';
import { results } from '../../../engine/results/index.ts';
import { unitRows } from '../../../engine/units/table.ts';
import { findingPage, listReference, referencePage } from '../../../server/render/reference.ts';
import { analysed, findingsOf } from '../../kit/plants.ts';

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

  test.each(codes)('of the finding %s with cause, remedy, source and an example', code => {
    const documentation = documentationOf(code);
    const text = pages.get(findingPage(code))!;
    const { why, remedy, source } = documentation;
    for (const part of [why, remedy]) expect(text).toContain(`\n\n${part}\n\n`);
    expect(text).toContain(source.slice(1));
    const { bad, mended } = exampleOf(documentation);
    const [first = '', second] = [...text.matchAll(/```plant\n([\s\S]*?)\n```/g)].map(([, shown = '']) => shown);
    for (const paragraph of first.split('\n\n')) {
      if (second !== undefined || bad.includes(paragraph)) expect(bad).toContain(paragraph);
      else for (const line of paragraph.split('\n')) expect(mended).toContain(line);
    }
    for (const paragraph of second?.split('\n\n') ?? []) expect(mended).toContain(paragraph);
  });

  test.each(codes)('of the finding %s that quotes what is really said', code => {
    const quoted = [...pages.get(findingPage(code))!.matchAll(/^> (\w+) at `.*?`: (.+)$/gm)];
    expect(quoted.length).toBeGreaterThan(0);
    const said = findingsOf(analysed(exampleOf(documentationOf(code)).bad, '2026-01-01'), code);
    for (const [, severity, message] of quoted)
      expect(said.map(finding => `${finding.severity} ${finding.message}`)).toContain(`${severity} ${message}`);
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
