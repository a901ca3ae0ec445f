// Which findings `check` shows: all, those that a baseline does not know, those that a change can affect, or agreements.
import { rmSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { acceptedOutput, checkOutput } from '../../server/cli/schemas.ts';
import { type Folder, makeFolder } from '../kit/command.ts';
import { given } from '../kit/given.ts';
import { edited } from '../kit/plants.ts';
import { type GitFolder, makeRepository, shallowClone } from '../kit/repository.ts';
import { starter } from '../kit/starter.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

function checked(folder: Folder, ...words: readonly string[]) {
  const { code, out, err } = folder.run('check', '--format', 'json', ...words);
  if (out === '') throw new Error(err);
  return { code, ...checkOutput.parse(JSON.parse(out)) };
}

const draft = Object.fromEntries(starter('first-draft.plant'));
const station = Object.fromEntries(starter('valley-station.plant'));
const commaMistake = 'let peak = 0,4 MW\n';

describe('a baseline', () => {
  test('leaves out what it knows, wherever the lines have moved to, and shows what is new', () => {
    const folder = given(makeFolder({ 'a.plant': commaMistake }));
    folder.run('check', '--format', 'json', '--output', 'baseline.json');
    folder.write('a.plant', `# moved\n${commaMistake}`);
    expect(checked(folder, '--baseline', 'baseline.json')).toMatchObject({ code: 0, known: 1, counts: { errors: 0 } });
    folder.write('a.plant', `${commaMistake}let more = 0,5 MW\n`);
    const after = checked(folder, '--baseline', 'baseline.json');
    expect(after).toMatchObject({ code: 1, known: 1, counts: { errors: 1 } });
    expect(after.plants[0]?.findings[0]?.message).toContain('0.5');
  });

  test('never hides a hazard', () => {
    const folder = given(makeFolder(draft));
    folder.run('check', '--format', 'json', '--output', 'baseline.json');
    const { code, out } = folder.run('check', '--baseline', 'baseline.json');
    expect(code).toBe(1);
    expect(out).toContain('error[uncontrolled_charging] hazard');
    expect(out).not.toContain('transformer_loading');
    expect(out).toMatch(/^\d+ findings are in the baseline and not shown again; hazards are always shown\.$/m);
  });

  test('that is missing, or is none: said, exit code 2', () => {
    const folder = given(makeFolder({ 'a.plant': commaMistake, 'other.json': '{"plants":[{"findings":[{}]}]}' }));
    expect(folder.run('check', '--baseline', 'gone.json')).toMatchObject({
      code: 2,
      err: 'There is no baseline "gone.json".\n',
    });
    for (const file of ['other.json', 'a.plant']) {
      const { code, err } = folder.run('check', '--baseline', file);
      expect(code).toBe(2);
      expect(err).toMatch(/ is no baseline: write one with "wattwright check --format json --output /);
    }
  });
});

describe('--changed-since', () => {
  const plant = (name: string, use: string) => `use "${use}"\n\nplant ${name} {\n  altitude = 1400 m\n}\n`;
  const workspace = {
    'parts/base.plant': 'let base = 400 kW\n',
    'parts/p.plant': 'use "base.plant"\n\nlet peak = base\n',
    'a.plant': plant('A', 'parts/p.plant'),
    'b.plant': plant('B', 'parts/other.plant'),
    'parts/other.plant': 'let other = 1 kW\n',
  };
  const committed = (): GitFolder => {
    const folder = given(makeRepository(workspace));
    folder.commit('first');
    return folder;
  };
  const paths = (folder: Folder, ...words: readonly string[]) => checked(folder, ...words).plants.map(one => one.path);

  test('a changed part re-checks what uses it, directly or through others, and leaves the rest alone', () => {
    const folder = committed();
    folder.write('parts/base.plant', 'let base = 500 kW\n');
    expect(paths(folder, '--changed-since', 'HEAD')).toEqual(['a.plant', 'parts/base.plant', 'parts/p.plant']);
  });

  test('a part that is gone, and a file that git does not know yet, are changes too', () => {
    const folder = committed();
    rmSync(path.join(folder.at, 'parts/other.plant'));
    folder.write('new.plant', 'let new = 1 kW\n');
    expect(paths(folder, '--changed-since', 'HEAD')).toEqual(['b.plant', 'new.plant']);
  });

  test('only what lies under the paths is shown', () => {
    const folder = committed();
    folder.write('parts/base.plant', 'let base = 500 kW\n');
    expect(paths(folder, '--changed-since', 'HEAD', 'parts')).toEqual(['parts/base.plant', 'parts/p.plant']);
  });

  test('other packages may change every plant', () => {
    const folder = committed();
    folder.write('package.json', '{}');
    expect(paths(folder, '--changed-since', 'HEAD')).toHaveLength(5);
  });

  test('nothing changed: nothing to say, exit code 0', () => {
    const { code, out } = committed().run('check', '--changed-since', 'HEAD');
    expect(code).toBe(0);
    expect(out).toMatch(/^Only what the changes since HEAD can affect was checked; 5 of 5 files were left alone\.$/m);
  });

  test('neither the index nor the working files are touched', () => {
    const folder = committed();
    folder.write('a.plant', `# changed\n${workspace['a.plant']}`);
    folder.git('add', 'a.plant');
    const before = folder.git('status', '--porcelain=v2', '--branch');
    folder.run('check', '--changed-since', 'HEAD');
    expect(folder.git('status', '--porcelain=v2', '--branch')).toBe(before);
  });

  test('a revision is never an option', () => {
    const folder = committed();
    const { code, err } = folder.run('check', '--changed-since', '--output=stolen');
    expect(code).toBe(2);
    expect(err).toBe('"--output=stolen" is no commit of this repository.\n');
  });

  test('no repository, no such commit, a shallow clone without it: each in one sentence, exit code 2', () => {
    const bare = given(makeFolder(workspace));
    expect(bare.run('check', '--changed-since', 'HEAD')).toMatchObject({
      code: 2,
      err: `"${bare.at}" is not in a git repository.\n`,
    });
    const folder = committed();
    expect(folder.run('check', '--changed-since', 'gone')).toMatchObject({
      code: 2,
      err: '"gone" is no commit of this repository.\n',
    });
    const first = folder.git('rev-parse', 'HEAD');
    folder.commit('second');
    const clone = given(shallowClone(folder));
    const { code, err } = clone.run('check', '--changed-since', first);
    expect(code).toBe(2);
    expect(err).toContain('is not in this shallow clone. Fetch the whole history first, with "git fetch --unshallow"');
  });
});

describe('--settled', () => {
  const open = edited(station['valley-station.plant'] ?? '', ['rated_power = 500 kVA', 'rated_power = pick']);

  test('a pick that is left to the tool is an error, with the pick as its fix', () => {
    const folder = given(makeFolder({ ...station, 'valley-station.plant': open }));
    expect(folder.run('check', 'valley-station.plant').code).toBe(0);
    const { code, plants } = checked(folder, '--settled', 'valley-station.plant');
    expect(code).toBe(1);
    expect(
      plants[0]?.findings.find(finding => finding.code === 'missing_fact' && finding.severity === 'error'),
    ).toMatchObject({
      severity: 'error',
      subject: 'T1',
      fixes: [{ title: expect.stringMatching(/^Write [\d.]+ [kM]VA$/), safe: true }],
    });
  });
});

describe('--accepted', () => {
  const accept = 'accept transformer_spare on T1 down to 5 % until 2027-06-30';

  test('lists what was agreed to, with bound, date, reason and whether it still holds', () => {
    const folder = given(makeFolder(station));
    const { accepted } = acceptedOutput.parse(JSON.parse(folder.run('check', '--accepted', '--format', 'json').out));
    expect(accepted).toEqual([
      expect.objectContaining({
        path: 'valley-station.plant',
        plant: 'ValleyStation',
        code: 'transformer_spare',
        subject: 'T1',
        bound: 'down to 5 %',
        until: '2027-06-30',
        because: 'agreed with the customer, item 12 of the minutes',
        state: 'in force',
      }),
    ]);
  });

  test.each([
    ['expired', [accept, 'accept transformer_spare on T1 down to 5 % until 2020-06-30']],
    ['exceeded', [accept, 'accept transformer_spare on T1 down to 9.9 % until 2027-06-30']],
    ['unused', [accept, 'accept ripple_current on F1 until 2027-06-30']],
  ] as const)('says what is %s', (state, edit) => {
    const text = edited(station['valley-station.plant'] ?? '', edit);
    const folder = given(makeFolder({ ...station, 'valley-station.plant': text }));
    const { out } = folder.run('check', '--accepted');
    expect(out).toMatch(new RegExp(`^valley-station\\.plant:\\d+:1: .*  ${state}$`, 'm'));
    expect(out).toMatch(new RegExp(`^1 accepted in all, 1 ${state}\\.$`, 'm'));
  });

  test('nothing agreed to', () => {
    expect(given(makeFolder({ 'a.plant': 'let peak = 1 kW\n' })).run('check', '--accepted')).toMatchObject({
      code: 0,
      out: 'Nothing was agreed to.\n',
    });
  });

  test('no other form', () => {
    const { code, err } = given(makeFolder(station)).run('check', '--accepted', '--format', 'sarif');
    expect([code, err]).toEqual([2, '--accepted is written as text or json, not as sarif.\n']);
  });
});
