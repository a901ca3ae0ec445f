// What the command keeps between runs to start sooner: it never changes what it says.
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'start-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function check(more: NodeJS.ProcessEnv = {}, plant = 'client/starter/first-draft.plant'): string {
  const words = [path.join(root, 'dist/wattwright.cjs'), 'check', plant];
  const env = { ...process.env, NODE_COMPILE_CACHE: folder, ...more };
  const { stdout, stderr, status } = spawnSync(process.execPath, words, { cwd: root, env, encoding: 'utf8' });
  expect(stderr).toBe('');
  expect(status).toBe(1);
  return stdout;
}

const kept = (): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter(name => /wattwright-v\d+[\w.]+-\w+-[0-9a-f]{16}-check$/.test(name))
    .map(name => path.join(folder, name));

it('a first run keeps what it has compiled, and a second one says the same', () => {
  const first = check();
  expect(kept()).toHaveLength(1);
  const { ino, size } = statSync(kept()[0]!);
  expect(size).toBeGreaterThan(500_000);
  expect(check()).toBe(first);
  expect(statSync(kept()[0]!)).toMatchObject({ ino, size });
});

it('what a run kept that did little is made anew by one that does more', () => {
  const poor = path.join(folder, 'poor.plant');
  writeFileSync(poor, 'plant Half {');
  check({}, poor);
  const { ino, size } = statSync(kept()[0]!);
  check({}, poor);
  expect(statSync(kept()[0]!)).toMatchObject({ ino, size });
  const first = check();
  const grown = statSync(kept()[0]!);
  expect(grown.size).toBeGreaterThan(1.1 * size);
  for (let run = 0; run < 8; run++) expect(check()).toBe(first);
  expect(statSync(kept()[0]!)).toMatchObject({ ino: grown.ino, size: grown.size });
});

it('what is kept and broken is made anew', () => {
  const first = check();
  const [file] = kept();
  const whole = readFileSync(file!);
  for (const broken of [Buffer.from('nothing of the kind'), Buffer.alloc(0), whole.subarray(0, whole.length / 2)]) {
    writeFileSync(file!, broken);
    expect(check()).toBe(first);
    expect(statSync(file!).size).toBeGreaterThan(500_000);
  }
});

it.skipIf(process.platform === 'win32')('what others may have written is not run, but made anew', () => {
  const first = check();
  const [file] = kept();
  const { ino } = statSync(file!);
  chmodSync(file!, 0o622);
  expect(check()).toBe(first);
  const again = statSync(file!);
  expect(again.ino).not.toBe(ino);
  expect(again.mode & 0o777).toBe(0o600);
});

it('nothing is kept where Node shall keep nothing', () => {
  const first = check({ NODE_DISABLE_COMPILE_CACHE: '1' });
  expect(kept()).toEqual([]);
  expect(first).toContain('uncontrolled_charging');
});
