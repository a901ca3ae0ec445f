// Plants that nobody has open are checked as long as something that they use is open, whatever else opens and closes.
import { expect, test, vi } from 'vitest';
import { makeFolder, start } from '../kit/editors.ts';

vi.setConfig({ testTimeout: 120_000 });
const patience = { timeout: 30_000 };

const p = 'let peak = 400 kW\n';
const q = 'use "p.plant"\nlet further = 3 V\n';
const broken = 'let rest = 0,4 MW\n';

test('a plant leaves when the last open file that it uses closes, directly or through another', async () => {
  const files = [
    ['p.plant', p],
    ['q.plant', q],
    ...Array.from({ length: 30 }, (_, index) => [`far${index}.plant`, `use "q.plant"\n${broken}`] as const),
  ] as const;
  const { address, uri } = makeFolder(new Map(files));
  const editor = await start({ folder: address });
  const wrong = (name: string) => editor.published.findLast(one => one.uri === uri(name))?.diagnostics.length;
  const all = (count: number | undefined) =>
    vi.waitFor(() => {
      for (let index = 0; index < 30; index++) expect(wrong(`far${index}.plant`)).toBe(count);
    }, patience);
  await editor.open(uri('p.plant'), p);
  await all(1);
  await editor.open(uri('q.plant'), q);
  // As a renaming does: all are opened, changed and closed again.
  for (let index = 0; index < 30; index++) await editor.open(uri(`far${index}.plant`), `use "q.plant"\n${broken}`);
  for (let index = 0; index < 30; index++) {
    await editor.change(uri(`far${index}.plant`), `use "q.plant"\n\n${broken}`, 2);
  }
  await editor.close(uri('p.plant'));
  for (let index = 0; index < 30; index++) await editor.close(uri(`far${index}.plant`));
  // They still use the other, which is open; on the disk they stand as before.
  await vi.waitFor(() => {
    for (let index = 0; index < 30; index++) {
      const last = editor.published.findLast(one => one.uri === uri(`far${index}.plant`));
      expect(last?.diagnostics.map(({ range }) => range.start.line)).toEqual([1]);
    }
  }, patience);
  await editor.close(uri('q.plant'));
  await all(0);
  await editor.open(uri('q.plant'), q);
  await all(1);
  expect(await editor.stop()).toBe(0);
});

test('a plant that begins to use an open part while it is typed is not forgotten when it closes', async () => {
  const { address, uri, write } = makeFolder(
    new Map([
      ['p.plant', p],
      ['hut.plant', broken],
    ]),
  );
  const editor = await start({ folder: address });
  await editor.open(uri('p.plant'), p);
  await editor.open(uri('hut.plant'), broken);
  const using = `use "p.plant"\n${broken}`;
  await editor.change(uri('hut.plant'), using, 2);
  expect(await editor.diagnosticsOf(uri('hut.plant'), 2)).toHaveLength(1);
  write('hut.plant', using);
  await editor.close(uri('hut.plant'));
  await vi.waitFor(() => {
    const last = editor.published.findLast(one => one.uri === uri('hut.plant'));
    expect(last?.version).toBeUndefined();
    expect(last?.diagnostics.map(({ range }) => range.start.line)).toEqual([1]);
  }, patience);
  expect(await editor.stop()).toBe(0);
});
