// `compare` as reviewers and pipelines meet it: two files, two folders, two commits.
import { rmSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { compareOutput } from '../../server/cli/schemas.ts';
import { type Folder, makeFolder } from '../kit/command.ts';
import { given } from '../kit/given.ts';
import { edited } from '../kit/plants.ts';
import { type GitFolder, makeRepository, shallowClone } from '../kit/repository.ts';
import { starter } from '../kit/starter.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const station = Object.fromEntries(starter('valley-station.plant'));
const text = station['valley-station.plant'] ?? '';
const higher = edited(text, ['secondary_voltage = 360 V', 'secondary_voltage = 375 V']);
const lower = edited(text, ['lowest_connected = 0 %', 'lowest_connected = 5 %']);

function json(folder: Folder, ...words: readonly string[]) {
  const { code, out, err } = folder.run('compare', '--format', 'json', ...words);
  if (out === '') throw new Error(err);
  return { code, err, ...compareOutput.parse(JSON.parse(out)) };
}

describe('two files', () => {
  const folder = () => given(makeFolder({ ...station, 'higher.plant': higher, 'lower.plant': lower }));

  test('worse: exit code 1, the numbers before and after, and the new hazard', () => {
    const { code, out } = folder().run('compare', 'valley-station.plant', 'higher.plant');
    expect(code).toBe(1);
    expect(out).toMatch(/^ {4}K1\.diode_margin +3\.\d+ % → -0\.\d+ % +-4\.\d+ points, towards its limit 0 %/m);
    expect(out).toMatch(
      /^ {4}new {3}hazard, error\[uncontrolled_charging\] higher\.plant:\d+: With the gates blocked/m,
    );
    expect(out).toMatch(/^ {4}T1\.secondary_voltage: 360 V → 375 V$/m);
    expect(out).toMatch(/; something is worse\.$/m);
  });

  test('nothing worse: exit code 0', () => {
    const { code, worse, changed } = json(folder(), 'valley-station.plant', 'lower.plant');
    expect([code, worse]).toEqual([0, false]);
    expect(changed[0]?.values.map(({ trend }) => trend)).toContain('away');
  });

  test('the same: exit code 0 and nothing to say', () => {
    expect(folder().run('compare', 'lower.plant', 'lower.plant')).toMatchObject({
      code: 0,
      out: 'Compared "lower.plant" with "lower.plant": 0 changed, 1 unchanged; nothing is worse.\n',
    });
  });
});

describe('two folders', () => {
  test('plants that are new, gone or moved, and a part that changes the plant which uses it', () => {
    const parts = 'parts/lfp-string.plant';
    const folder = given(
      makeFolder({
        ...Object.fromEntries(Object.entries(station).map(([file, was]) => [`old/${file}`, was])),
        ...Object.fromEntries(Object.entries(station).map(([file, was]) => [`new/${file}`, was])),
        [`new/${parts}`]: edited(station[parts] ?? '', ['capacity = 280 Ah', 'capacity = 250 Ah']),
        'new/extra.plant': 'plant Extra {\n  altitude = 1400 m\n}\n',
        'old/moved-from.plant': 'plant Moved {\n  altitude = 1500 m\n}\n',
        'new/moved-to.plant': 'plant Moved {\n  altitude = 1600 m\n}\n',
      }),
    );
    rmSync(path.join(folder.at, 'new/first-draft.plant'));
    const { added, removed, changed } = json(folder, 'old', 'new');
    expect(added.map(file => file.path)).toEqual(['extra.plant']);
    expect(removed.map(file => file.path)).toEqual(['first-draft.plant']);
    expect(changed.map(file => [file.path, file.movedFrom])).toEqual([
      ['moved-to.plant', 'moved-from.plant'],
      ['valley-station.plant', null],
    ]);
    expect(changed[1]?.facts).toContainEqual(
      expect.objectContaining({ name: 'B1.capacity', after: expect.objectContaining({ display: '250 Ah' }) }),
    );
    expect(changed[1]?.values.find(({ name }) => name.endsWith('.discharge_time'))).toMatchObject({ trend: 'towards' });
  });

  test('a file and a folder, or nothing there: exit code 2', () => {
    const folder = given(makeFolder({ 'a.plant': 'let a = 1 m\n', 'empty/readme.txt': '' }));
    expect(folder.run('compare', 'a.plant', 'empty')).toMatchObject({
      code: 2,
      err: '"empty" is a folder and the other is a file: compare like with like.\n',
    });
    expect(folder.run('compare', 'empty', 'empty')).toMatchObject({
      code: 2,
      err: 'There is no .plant file in "empty" or "empty", so there is nothing to compare.\n',
    });
    expect(folder.run('compare', 'gone', 'empty').err).toMatch(
      /^There is no file or folder "gone"\. Commits are compared with --since/,
    );
    expect(folder.run('compare', 'a.plant').err).toMatch(/^Compare two files or two folders, or with a commit/);
  });
});

describe('commits', () => {
  const committed = (): GitFolder => {
    const folder = given(makeRepository(station));
    folder.commit('first');
    return folder;
  };

  test('the working files with a commit, without touching anything', () => {
    const folder = committed();
    folder.write('valley-station.plant', higher);
    const before = folder.git('status', '--porcelain=v2', '--branch');
    const { code, before: from, after, changed, unchanged } = json(folder, '--since', 'HEAD');
    expect([code, from, after]).toEqual([1, 'HEAD', 'the working files']);
    expect(changed.map(file => file.path)).toEqual(['valley-station.plant']);
    expect(unchanged).toBe(Object.keys(station).length - 1);
    expect(folder.git('status', '--porcelain=v2', '--branch')).toBe(before);
  });

  test('two commits, whatever the working files hold', () => {
    const folder = committed();
    folder.write('valley-station.plant', lower);
    folder.commit('second');
    folder.write('valley-station.plant', higher);
    const { code, changed } = json(folder, '--since', 'HEAD~1', '--to', 'HEAD');
    expect(code).toBe(0);
    expect(changed[0]?.facts.map(({ name }) => name)).toEqual(['B1.lowest_connected']);
  });

  test('a plant that is gone from the working files is compared by its name', () => {
    const folder = committed();
    rmSync(path.join(folder.at, 'first-draft.plant'));
    expect(json(folder, '--since', 'HEAD', 'first-draft.plant').removed.map(file => file.path)).toEqual([
      'first-draft.plant',
    ]);
  });

  test('a base with mistakes is compared as far as it goes; one that is no text is said to be none, exit code 2', () => {
    const folder = given(makeRepository(station));
    folder.write('valley-station.plant', edited(text, ['impedance = 6 % ± 10 %', 'impedance = = 6 %']));
    folder.write('photo.plant', new Uint8Array([137, 80, 0, 71]));
    folder.write('long.plant', `# ${'x'.repeat(5_100_000)}\n`);
    folder.commit('first');
    for (const [file, was] of Object.entries({
      ...station,
      'photo.plant': 'let a = 1 m\n',
      'long.plant': 'let b = 1 m\n',
    }))
      folder.write(file, was);
    const { code, err, changed, problems } = json(folder, '--since', 'HEAD');
    expect(code).toBe(2);
    expect(problems).toEqual([
      '"long.plant" could not be read in HEAD: it is 5.1 MB long, more than 5 MB.',
      '"photo.plant" could not be read in HEAD: it is not a text file (it holds zero bytes).',
    ]);
    expect(err).toBe(`${problems.join('\n')}\n`);
    expect(changed.find(file => file.path === 'valley-station.plant')?.doubts).toHaveLength(1);
  });

  test('no repository, no such commit, a shallow clone, no plant: each in one sentence, exit code 2', () => {
    const bare = given(makeFolder(station));
    expect(bare.run('compare', '--since', 'HEAD')).toMatchObject({
      code: 2,
      err: `"${bare.at}" is not in a git repository.\n`,
    });
    const folder = committed();
    expect(folder.run('compare', '--since', 'gone')).toMatchObject({
      code: 2,
      err: '"gone" is no commit of this repository.\n',
    });
    expect(folder.run('compare', '--since=--output=x')).toMatchObject({
      code: 2,
      err: '"--output=x" is no commit of this repository.\n',
    });
    expect(folder.run('compare', '--since', 'HEAD', 'nowhere').err).toBe(
      'There is no .plant file in "nowhere", neither in HEAD nor in the working files.\n',
    );
    const first = folder.git('rev-parse', 'HEAD');
    folder.commit('second');
    const clone = given(shallowClone(folder));
    const { code, err } = clone.run('compare', '--since', first);
    expect(code).toBe(2);
    expect(err).toContain('is not in this shallow clone. Fetch the whole history first');
  });
});

describe('Markdown', () => {
  test('a table of what moved, and the hazard above it', () => {
    const folder = given(makeFolder({ ...station, 'higher.plant': higher }));
    const { out } = folder.run('compare', '--format', 'markdown', 'valley-station.plant', 'higher.plant');
    expect(out).toMatch(/^\*\*1 new hazard, 1 new error, \d+ results nearer to their limits\.\*\*/);
    expect(out).toMatch(
      /^\| K1\.diode\\_margin \| 3\.\d+\u00a0% \| -0\.\d+\u00a0% \| -4\.\d+\u00a0points<br>▲ towards its limit 0 % \|$/m,
    );
    expect(out.indexOf('new **hazard, error** uncontrolled')).toBeLessThan(out.indexOf('| result |'));
  });

  test('the plant with the new hazard first, whatever its name; a commit by the beginning of its own', () => {
    const before = { ...station, 'another.plant': station['valley-station.plant'] ?? '' };
    const folder = given(makeRepository(before));
    const commit = folder.commit('base');
    folder.write('valley-station.plant', higher);
    folder.write('another.plant', edited(before['another.plant'], ['rated_power = 500 kVA', 'rated_power = 630 kVA']));
    const { out } = folder.run('compare', '--since', commit, '--format', 'markdown');
    expect(commit).toMatch(/^[0-9a-f]{40}$/);
    expect(out).toContain(`Compared ${commit.slice(0, 12)} with the working files.`);
    expect([...out.matchAll(/^### .* – (.*)$/gm)].map(([, title]) => title)).toEqual([
      'valley-station.plant',
      'another.plant',
    ]);
  });

  test('cut to a length: the hazard stays, and it is said how much went', () => {
    const folder = given(makeFolder({ ...station, 'higher.plant': higher }));
    const { out } = folder.run(
      'compare',
      '--format',
      'markdown',
      '--at-most',
      '1500',
      'valley-station.plant',
      'higher.plant',
    );
    expect(out.length).toBeLessThanOrEqual(1500);
    expect(out).toContain('new **hazard, error** uncontrolled');
    expect(out).toMatch(/_\d+ lines are left out for length, the least important first\._\n$/);
  });

  test('text from a file mentions nobody, loads nothing, links nowhere', () => {
    const hostile = '@team <img src=x> ![a](//b) [c](https://d.example) #7 | `e` www.f.example';
    const folder = given(
      makeFolder({ ...station, 'hostile.plant': edited(text, ['item 12 of the minutes', hostile]) }),
    );
    const { out } = folder.run('compare', '--format', 'markdown', 'valley-station.plant', 'hostile.plant');
    expect(out).toContain('team');
    expect(out).not.toMatch(/@t|<img|!\[|\]\(|https:\/\/|#7|www\.f|[^\\]`/);
  });
});
