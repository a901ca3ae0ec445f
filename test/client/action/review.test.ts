// The review of a pull request, step by step, in a scratch repository with a made-up event.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { compareOutput } from '../../../server/cli/schemas.ts';
import {
  type ActionRun,
  type Platform,
  runAction,
  type Setting,
  shell,
  startPlatform,
  stepsOf,
} from '../../kit/action.ts';
import { type Folder, makeFolder } from '../../kit/command.ts';
import { edited } from '../../kit/plants.ts';
import { type GitFolder, makeRepository, runGit } from '../../kit/repository.ts';
import { validRun } from '../../kit/sarif.ts';
import { starter } from '../../kit/starter.ts';

// Each test starts many processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 180_000 });

const folders: Folder[] = [];
let platform: Platform;
beforeEach(async () => {
  platform = await startPlatform();
});
afterEach(() => {
  platform.close();
  for (const folder of folders.splice(0)) folder.remove();
});

function given<T extends Folder>(folder: T): T {
  folders.push(folder);
  return folder;
}

const station = Object.fromEntries(starter('valley-station.plant'));
const higher = edited(station['valley-station.plant'] ?? '', [
  'secondary_voltage = 360 V',
  'secondary_voltage = 375 V',
]);
const comments = '/repos/cableway/plants/issues/7/comments';

interface Change {
  readonly folder: GitFolder;
  readonly base: string;
  readonly event: { readonly pull_request: object; readonly repository: object };
}

/** A branch with these files changed, checked out as a pull request of number 7. */
function changing(files: Readonly<Record<string, string>>, from = 'cableway/plants', before = station): Change {
  const folder = given(makeRepository(before));
  const base = folder.commit('base');
  folder.git('checkout', '--quiet', '-b', 'change');
  for (const [name, text] of Object.entries(files)) folder.write(name, text);
  const head = folder.commit('change');
  const pull = {
    number: 7,
    base: { sha: base, ref: 'main' },
    head: { sha: head, ref: 'change', repo: { full_name: from } },
  };
  return { folder, base, event: { pull_request: pull, repository: { full_name: 'cableway/plants' } } };
}

function review({ folder, event }: Change, rest: Partial<Setting> = {}): Promise<ActionRun> {
  const runner = given(makeFolder()).at;
  return runAction('action.yml', { folder: folder.at, runner, event, api: platform.address, ...rest });
}

describe('a change that brings a hazard', () => {
  test('annotates the line, tells the summary, posts one comment, and is not to be merged', async () => {
    platform.answers.set(`GET ${comments}`, []).set(`POST ${comments}`, {});
    const run = await review(changing({ 'valley-station.plant': higher, 'first-draft.plant': 'let gone = 1 m\n' }));
    expect(run.log).toMatch(
      /^::error file=valley-station\.plant,line=\d+,.*title=Hazard%3A uncontrolled_charging on K1::/m,
    );
    expect(run.summary).toContain('new **hazard, error** uncontrolled');
    expect(run.outputs).toEqual({ verdict: '1', worse: 'true', fork: 'false', number: '7' });
    expect(run.code).toBe(1);
    expect(platform.written().map(({ method, route }) => `${method} ${route}`)).toEqual([`POST ${comments}`]);
    expect(JSON.stringify(platform.written()[0]?.body)).toContain('K1.diode');
  });

  test('keeps the comment up to date, never that of somebody else', async () => {
    const mark = '<!-- wattwright: what this change does -->';
    platform.answers
      .set(`GET ${comments}`, [
        { id: 1, body: `${mark}\nlooks like ours`, user: { login: 'somebody' } },
        { id: 2, body: `${mark}\nours`, user: { login: 'github-actions[bot]' } },
      ])
      .set('PATCH /repos/cableway/plants/issues/comments/2', {});
    await review(changing({ 'valley-station.plant': higher }));
    expect(platform.written().map(({ method, route }) => `${method} ${route}`)).toEqual([
      'PATCH /repos/cableway/plants/issues/comments/2',
    ]);
  });

  test('hands everything to code scanning where that is used, and annotates nothing', async () => {
    platform.answers.set('POST /repos/cableway/plants/code-scanning/sarifs', {});
    const change = changing({ 'valley-station.plant': higher });
    const run = await review(change, { inputs: { 'code-scanning': 'true', comment: 'false' } });
    expect(run.log).not.toMatch(/^::error file=/m);
    const [upload] = platform.written();
    const body = upload?.body as { readonly commit_sha: string; readonly ref: string; readonly sarif: string };
    expect([body.commit_sha, body.ref]).toEqual(['1'.repeat(40), 'refs/pull/7/merge']);
    const { results } = validRun(gunzipSync(Buffer.from(body.sarif, 'base64')).toString('utf8'));
    expect(results.map(({ ruleId }) => ruleId)).toContain('uncontrolled_charging');
  });
});

describe('a change that changes nothing', () => {
  const parts = { 'a.plant': 'let peak = 1 kW\n' };

  test('posts no comment and may be merged', async () => {
    platform.answers.set(`GET ${comments}`, []);
    const run = await review(changing({ 'readme.txt': 'x' }, 'cableway/plants', parts));
    expect([run.code, platform.written()]).toEqual([0, []]);
    expect(run.summary).toContain('No result and no finding changes.');
  });

  test('is compared with the merge base, not with what the other branch became', async () => {
    const { folder, event } = changing({ 'b.plant': 'let more = 1 kW\n' }, 'cableway/plants', parts);
    folder.git('checkout', '--quiet', 'main');
    folder.write('c.plant', 'let later = 1 kW\n');
    const later = folder.commit('later');
    folder.git('checkout', '--quiet', 'change');
    const moved = { ...event, pull_request: { ...event.pull_request, base: { sha: later, ref: 'main' } } };
    platform.answers.set(`GET ${comments}`, []).set(`POST ${comments}`, {});
    const { summary } = await runAction('action.yml', {
      folder: folder.at,
      runner: given(makeFolder()).at,
      event: moved,
      api: platform.address,
    });
    expect(summary).toContain('b.plant is new');
    expect(summary).not.toContain('c.plant');
  });
});

test('a change from a fork: nothing is written to the platform, the comparison is kept for the trusted half', async () => {
  const run = await review(changing({ 'valley-station.plant': higher }, 'stranger/plants'), {
    inputs: { 'code-scanning': 'true' },
  });
  expect(platform.asked).toEqual([]);
  expect(run.steps).toEqual([
    'Build the checker',
    'Check and compare',
    'Keep the comparison for the trusted workflow',
    'Verdict',
  ]);
  expect(run.code).toBe(1);
  expect(run.log).toMatch(/^::error file=valley-station\.plant/m);
  const kept = JSON.parse(readFileSync(path.join(run.work, 'review.json'), 'utf8'));
  expect(kept.number).toBe(7);
  expect(compareOutput.parse(kept.comparison).worse).toBe(true);
});

test('a shallow checkout: exit code 2, with the line to add', async () => {
  const change = changing({ 'b.plant': 'let more = 1 kW\n' }, 'cableway/plants', { 'a.plant': 'let peak = 1 kW\n' });
  const clone = given(makeFolder());
  runGit(clone.at, ['clone', '--quiet', '--depth', '1', '--branch', 'change', `file://${change.folder.at}`, '.']);
  const run = await runAction('action.yml', {
    folder: clone.at,
    runner: given(makeFolder()).at,
    event: change.event,
    api: platform.address,
    inputs: { comment: 'false' },
  });
  expect(run.code).toBe(2);
  expect(run.log).toMatch(/^::error title=Wattwright::This checkout is shallow.*%0A {6}fetch-depth: 0%0A$/m);
  expect(run.summary).toContain('fetch-depth: 0');
});

describe('hostile names', () => {
  test('of branches, files and tags run nothing and begin no command', async () => {
    const file = 'x\n::set-output name=a::b\n##[error]c$(touch pwned)`touch pwned`;touch pwned.plant';
    const change = changing(
      {
        [file]: 'plant P {\n  altitude = 14 V\n}\n\nbus B$(touch pwned) { voltage = 0,4 V }\n',
        '-rf.plant': 'let a = 0,4 V\n',
      },
      'stranger/$(touch pwned)',
      { 'a.plant': 'let peak = 1 kW\n' },
    );
    change.folder.git('tag', 'v1;touch-pwned');
    change.folder.git('branch', '--', '$(>pwned)');
    const hostile = { ...change.event.pull_request, title: '$(touch pwned)', body: '`touch pwned`' };
    const run = await review({ ...change, event: { ...change.event, pull_request: hostile } });
    expect(existsSync(path.join(change.folder.at, 'pwned'))).toBe(false);
    expect(existsSync(path.join(change.folder.at, 'pwned.plant'))).toBe(false);
    const commands = run.log.split('\n').filter(line => /^\s*::|##\[/.test(line));
    expect(commands.length).toBeGreaterThan(0);
    for (const line of commands) expect(line).toMatch(/^::(error|warning|notice) (file|title)=[^\n]*$/);
    expect(run.log).not.toMatch(/^::set-output|^##\[/m);
    expect(Object.keys(run.outputs).sort()).toEqual(['fork', 'number', 'verdict', 'worse']);
  });

  test('no step puts an expression into a script', () => {
    for (const file of ['action.yml', 'comment/action.yml']) {
      for (const { run = '' } of stepsOf(file)) expect(run).not.toContain('${{');
    }
    for (const example of ['review.yml', 'comment.yml']) {
      const text = readFileSync(path.resolve(import.meta.dirname, '../../../client/action/examples', example), 'utf8');
      expect(text).not.toMatch(/pull_request_target|run: .*\$\{\{/);
    }
  });
});

test('a warning alone keeps a change back only where that is asked for', async () => {
  const verdict = (env: Readonly<Record<string, string>>) => {
    const script = path.resolve(import.meta.dirname, '../../../client/action/verdict.sh');
    return shell(`bash "${script}"`, given(makeFolder()).at, { ...process.env, ...env }).then(({ code }) => code);
  };
  expect(await verdict({ VERDICT: '0', WORSE: 'true' })).toBe(0);
  expect(await verdict({ VERDICT: '0', WORSE: 'true', FAIL_ON_WORSE: 'true' })).toBe(1);
  expect(await verdict({ VERDICT: '1' })).toBe(1);
  expect(await verdict({})).toBe(2);
});

test('the plain script for other systems leaves its files and ends with the verdict', async () => {
  const { folder } = changing({ 'valley-station.plant': higher });
  const script = path.resolve(import.meta.dirname, '../../../client/action/review.sh');
  const command = path.resolve(import.meta.dirname, '../../../dist/wattwright.cjs');
  const env = { ...process.env, WATTWRIGHT: `${process.execPath} ${command}`, BASE: 'main', OUT: 'out' };
  const { code, out } = await shell(`sh "${script}" valley-station.plant`, folder.at, env);
  expect(code).toBe(1);
  expect(out).toContain('error[uncontrolled_charging] hazard');
  const left = (name: string) => readFileSync(path.join(folder.at, 'out', name), 'utf8');
  expect(left('review.md')).toContain('new **hazard, error** uncontrolled');
  expect(JSON.parse(left('code-quality.json')).length).toBeGreaterThan(0);
  expect(validRun(left('findings.sarif')).results.length).toBeGreaterThan(0);
  expect(left('findings.xml')).toContain('<testsuites');
  expect((await shell(`sh "${script}"`, folder.at, { ...env, BASE: 'gone' })).code).toBe(2);

  // A command that checks and finds nothing, and can't compare: an older comparison must not stand for this one.
  folder.write('stand-in.sh', 'if [ "$1" = compare ]; then exit 2; fi\n');
  const failing = await shell(`sh "${script}"`, folder.at, { ...env, WATTWRIGHT: 'sh stand-in.sh' });
  expect(failing.code).toBe(2);
  expect(existsSync(path.join(folder.at, 'out/review.md'))).toBe(false);
});
