// `format`: writes the one layout, or says which files differ from it.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test, vi } from 'vitest';
import type { Folder } from '../kit/command.ts';
import { givenFiles as given } from '../kit/given.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const untidy = 'let   peak=400 kW\n';
const tidy = 'let peak = 400 kW\n';
const read = (folder: Folder, name: string) => readFileSync(path.join(folder.at, name), 'utf8');

test('--check lists what differs and writes nothing', () => {
  const folder = given({ 'a.plant': untidy, 'b.plant': tidy });
  expect(folder.run('format', '--check')).toEqual({
    code: 1,
    out: 'a.plant\n1 of 2 files differ from the layout.\n',
    err: '',
  });
  expect(read(folder, 'a.plant')).toBe(untidy);
});

test('without --check it writes, and then nothing differs', () => {
  const folder = given({ 'a.plant': untidy });
  expect(folder.run('format')).toMatchObject({ code: 0, out: 'a.plant\n1 of 1 files brought into the layout.\n' });
  expect(read(folder, 'a.plant')).toBe(tidy);
  expect(folder.run('format', '--check').code).toBe(0);
});

test('only what is named', () => {
  const folder = given({ 'a.plant': untidy, 'b.plant': untidy });
  folder.run('format', 'b.plant');
  expect([read(folder, 'a.plant'), read(folder, 'b.plant')]).toEqual([untidy, tidy]);
});
