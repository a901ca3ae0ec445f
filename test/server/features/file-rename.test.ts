// Renaming files: every `use` leads afterwards to the same file as before, and nothing else is touched.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { resolveUse, usedPaths } from '../../../engine/model/paths.ts';
import { movesOf, usesAfterRenaming } from '../../../server/features/file-rename.ts';
import { snapshotOf, withEdits } from '../../kit/feature.ts';

/** The files under their new names, with the edits made that the editor makes before. */
function rename(files: Readonly<Record<string, string>>, ...renamed: { readonly from: string; readonly to: string }[]) {
  const before = new Map(Object.entries(files));
  const moves = movesOf(renamed);
  const after = withEdits(before, usesAfterRenaming(snapshotOf(before), moves));
  return Object.fromEntries([...after].map(([path, text]) => [moves(path), text]));
}

describe('a file', () => {
  const files = {
    'a.plant': 'use "parts/p.plant" as range\n',
    'valley/b.plant': 'use "../parts/p.plant"\nuse "c.plant"\n',
    'valley/c.plant': 'use "gone.plant"\n',
    'parts/p.plant': 'use "q.plant"\nlet x = 1 V\n',
    'parts/q.plant': '',
  };

  test('with another name: those that use it follow', () => {
    expect(rename(files, { from: 'parts/p.plant', to: 'parts/string.plant' })).toEqual({
      'a.plant': 'use "parts/string.plant" as range\n',
      'valley/b.plant': 'use "../parts/string.plant"\nuse "c.plant"\n',
      'valley/c.plant': 'use "gone.plant"\n',
      'parts/string.plant': 'use "q.plant"\nlet x = 1 V\n',
      'parts/q.plant': '',
    });
  });

  test('in another folder: what it uses itself follows too', () => {
    expect(rename(files, { from: 'parts/p.plant', to: 'valley/p.plant' })).toMatchObject({
      'a.plant': 'use "valley/p.plant" as range\n',
      'valley/b.plant': 'use "p.plant"\nuse "c.plant"\n',
      'valley/p.plant': 'use "../parts/q.plant"\nlet x = 1 V\n',
    });
  });

  test('a whole folder: what stays together keeps its words', () => {
    expect(rename(files, { from: 'parts', to: 'shared/parts' })).toEqual({
      'a.plant': 'use "shared/parts/p.plant" as range\n',
      'valley/b.plant': 'use "../shared/parts/p.plant"\nuse "c.plant"\n',
      'valley/c.plant': 'use "gone.plant"\n',
      'shared/parts/p.plant': 'use "q.plant"\nlet x = 1 V\n',
      'shared/parts/q.plant': '',
    });
  });
});

test('a path in words of its own is left alone where it leads to the same file', () => {
  expect(rename({ 'a.plant': 'use "./parts/../b.plant"\n', 'b.plant': '' }, { from: 'c', to: 'd' })['a.plant']).toBe(
    'use "./parts/../b.plant"\n',
  );
});

test('what comes from a package, or leads out of the workspace, is left alone', () => {
  const text = 'use "@team/parts/p.plant"\nuse "../../x.plant"\n';
  expect(rename({ 'a.plant': text }, { from: 'a.plant', to: 'valley/a.plant' })).toEqual({ 'valley/a.plant': text });
});

test('in any folders: each use leads to where its file went', () => {
  const folder = fc.array(fc.constantFrom('x', 'y', 'z'), { maxLength: 3 });
  const path = fc.tuple(folder, fc.constantFrom('a', 'b', 'c')).map(([at, name]) => [...at, `${name}.plant`].join('/'));
  const chosen = fc.uniqueArray(path, { minLength: 3, maxLength: 5 });
  fc.assert(
    fc.property(chosen, path, (paths, to) => {
      const [from = '', ...others] = paths;
      fc.pre(!paths.includes(to));
      const up = (at: string) => '../'.repeat(at.split('/').length - 1);
      const text = (at: string) => paths.map(other => `use "${up(at)}${other}"\n`).join('');
      const after = rename(Object.fromEntries(paths.map(at => [at, text(at)])), { from, to });
      const { files } = snapshotOf(new Map(Object.entries(after)));
      for (const at of [to, ...others]) {
        const state = files.get(at);
        const uses = state?.state === 'text' ? usedPaths(at, state.tree) : [];
        expect(uses.map(({ written }) => resolveUse(at, written))).toEqual([to, ...others]);
      }
    }),
  );
});
