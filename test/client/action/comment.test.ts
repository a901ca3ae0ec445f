// The trusted half for pull requests from forks: what it downloads was written by strangers.
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { type ActionRun, type Platform, runAction, startPlatform, zip } from '../../kit/action.ts';
import { type Folder, makeFolder } from '../../kit/command.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 120_000 });

const folders: Folder[] = [];
let platform: Platform;
beforeEach(async () => {
  platform = await startPlatform();
});
afterEach(() => {
  platform.close();
  for (const folder of folders.splice(0)) folder.remove();
});

const head = 'a'.repeat(40);
const change = {
  state: 'open',
  head: { sha: head, repo: { full_name: 'stranger/plants' } },
  base: { repo: { full_name: 'cableway/plants' } },
};
const counts = { errors: 0, warnings: 0, notes: 0, hints: 0 };
const finding = {
  code: 'syntax',
  severity: 'error',
  hazard: false,
  accepted: false,
  message: 'It is wrong.',
  subject: null,
  line: 1,
};
const comparison = (message = 'It is wrong.', path = 'a.plant') => ({
  version: 1,
  before: 'base',
  after: 'the working files',
  worse: true,
  changed: [],
  added: [{ path, plant: null, counts: { ...counts, errors: 1 }, findings: [{ ...finding, message }] }],
  removed: [],
  unchanged: 0,
  problems: [],
  remarks: [],
});
const artifacts = '/repos/cableway/plants/actions/runs/5/artifacts';
const comments = '/repos/cableway/plants/issues/7/comments';

/** Runs the action after a workflow run that has left this archive. */
async function after(archive: Uint8Array, pull: object = change, size = archive.length): Promise<ActionRun> {
  const folder = makeFolder();
  const runner = makeFolder();
  folders.push(folder, runner);
  platform.answers
    .set(`GET ${artifacts}`, { artifacts: [{ id: 9, name: 'wattwright-review', expired: false, size_in_bytes: size }] })
    .set('GET /repos/cableway/plants/actions/artifacts/9/zip', archive)
    .set('GET /repos/cableway/plants/pulls/7', pull)
    .set(`GET ${comments}`, [])
    .set(`POST ${comments}`, {});
  const event = {
    workflow_run: {
      id: 5,
      event: 'pull_request',
      head_sha: head,
      head_repository: { full_name: 'stranger/plants' },
      head_branch: '$(touch pwned)',
    },
  };
  return runAction('comment/action.yml', { folder: folder.at, runner: runner.at, event, api: platform.address });
}

const review = (content: unknown = comparison(), number: unknown = 7) =>
  zip({ 'review.json': JSON.stringify({ version: 1, number, comparison: content }) });
const posted = () => platform.written().map(({ body }) => String(Reflect.get(Object(body), 'body')));

test('posts what the review has found, and says who has computed it', async () => {
  expect((await after(review())).code).toBe(0);
  expect(posted()).toHaveLength(1);
  expect(posted()[0]).toContain('_Computed by the workflow run of the fork, and not computed again here._');
  expect(posted()[0]).toContain('It is wrong.');
});

test('mentions, images, links and HTML of a stranger become text', async () => {
  await after(
    review(
      comparison('@team <img src=x onerror=y> ![a](https://b.example/c.png) [d](//e) www.f.example', '<script>@all'),
    ),
  );
  const [text = ''] = posted();
  expect(text).toContain('team');
  // The first line is our own mark.
  expect(text.split('\n').slice(1).join('\n')).not.toMatch(
    /@[a-z]|<(?!details|summary|br>|\/)|!\[|\]\(|https:\/\/|www\.f/,
  );
});

describe('refuses, and posts nothing', () => {
  const refusals: readonly (readonly [string, () => readonly [Uint8Array, object?, number?], RegExp])[] = [
    [
      'a number whose pull request has another commit',
      () => [review(), { ...change, head: { ...change.head, sha: 'b'.repeat(40) } }],
      /is not the one/,
    ],
    [
      'a number whose pull request comes from elsewhere',
      () => [review(), { ...change, head: { ...change.head, repo: { full_name: 'other/plants' } } }],
      /is not the one/,
    ],
    ['a pull request that is closed', () => [review(), { ...change, state: 'closed' }], /is not the one/],
    ['a number that is none', () => [review(comparison(), '7/../../x')], /names no pull request/],
    ['a comparison of another form', () => [review({ ...comparison(), more: 1 })], /is no comparison/],
    ['a comparison that is none', () => [review('<b>')], /is no comparison/],
    ['something that is no JSON', () => [zip({ 'review.json': '{' })], /was not written/],
    ['another file', () => [zip({ '../../review.json': '{}' })], /another file/],
    ['more files than one', () => [zip({ 'review.json': '{}', 'evil.sh': 'x' })], /exactly one file/],
    ['something that is no archive', () => [Buffer.from('no archive at all, but long enough')], /no archive/],
    [
      'an archive that unpacks to far more',
      () => [zip({ 'review.json': Buffer.alloc(50_000_000) })],
      /was not written/,
    ],
    ['an archive that is said to be large', () => [review(), change, 9_000_000], /far too large/],
    ['an archive that is larger than it is said to be', () => [Buffer.alloc(3_000_000), change, 10], /far too large/],
  ];

  test.each(refusals)('%s', async (_, make, reason) => {
    const { code, log } = await after(...make());
    expect(log).toMatch(reason);
    expect(code).toBe(1);
    expect(platform.written()).toEqual([]);
  });
});

test('a run that has left nothing, or was about no pull request, is passed over', async () => {
  platform.answers.set(`GET ${artifacts}`, { artifacts: [] });
  const run = (event: object) => {
    const folder = makeFolder();
    const runner = makeFolder();
    folders.push(folder, runner);
    return runAction('comment/action.yml', { folder: folder.at, runner: runner.at, event, api: platform.address });
  };
  expect((await run({ workflow_run: { id: 5, event: 'pull_request' } })).code).toBe(0);
  expect((await run({ workflow_run: { id: 5, event: 'push' } })).code).toBe(0);
  expect(platform.written()).toEqual([]);
});
