// What the language server keeps between runs to start sooner: it never changes what it says.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { soundExample } from '../../engine/checks/example.ts';
import { startEditor } from '../kit/language-server.ts';
import { edited } from '../kit/plants.ts';

vi.setConfig({ testTimeout: 60_000 });

const plant = edited(soundExample, ['for 45 min', 'for 3 h']);
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'start-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function findings(environment: NodeJS.ProcessEnv = {}, command?: readonly string[]) {
  const editor = await startEditor({
    environment: { NODE_COMPILE_CACHE: folder, ...environment },
    ...(command === undefined ? {} : { command }),
  });
  await editor.open('untitled:plant', plant);
  const found = await editor.diagnosticsOf('untitled:plant', 1);
  expect(found.map(({ code }) => code)).toContain('discharge_time');
  expect(await editor.stop()).toBe(0);
  return found;
}

const kept = (): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter(name => /wattwright-v/.test(name))
    .map(name => path.join(folder, name));

test('a first run keeps what it has compiled, and a second one is served by it and says the same', async () => {
  const first = await findings();
  expect(kept()).toHaveLength(1);
  expect(kept()[0]).toMatch(/-[0-9a-f]{16}-server$/);
  const { ino, size } = statSync(kept()[0]!);
  expect(size).toBeGreaterThan(1_000_000);
  expect(await findings()).toEqual(first);
  expect(statSync(kept()[0]!)).toMatchObject({ ino, size });
});

test('the command `lsp` is served by the same', async () => {
  const first = await findings();
  const { ino } = statSync(kept()[0]!);
  expect(await findings({}, ['wattwright.cjs', 'lsp'])).toEqual(first);
  expect(kept().map(file => statSync(file).ino)).toEqual([ino]);
});

test('what is kept and broken is made anew', async () => {
  const first = await findings();
  const whole = readFileSync(kept()[0]!);
  writeFileSync(kept()[0]!, whole.subarray(0, whole.length / 2));
  expect(await findings()).toEqual(first);
  expect(statSync(kept()[0]!).size).toBeGreaterThan(0.9 * whole.length);
});

test('nothing is kept where Node shall keep nothing', async () => {
  await findings({ NODE_DISABLE_COMPILE_CACHE: '1' });
  expect(kept()).toEqual([]);
});
