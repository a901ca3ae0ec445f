// The command line itself: commands, options, and what it says when it can't run.
import { afterAll, describe, expect, test, vi } from 'vitest';
import { makeFolder } from '../kit/command.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const folder = makeFolder({ 'parts.plant': 'let peak = 400 kW\n' });
afterAll(() => folder.remove());

describe('what it is asked for', () => {
  test('help lists every command and says that it replaces no engineer', () => {
    const { code, out } = folder.run('help');
    expect(code).toBe(0);
    for (const command of ['check', 'values', 'explain', 'format', 'lsp', 'version'])
      expect(out).toContain(`  ${command} `);
    expect(out).toContain('never replaces, the judgement of a licensed engineer');
  });

  test('help of a command and --help behind it say the same', () => {
    expect(folder.run('help', 'check').out).toBe(folder.run('check', '--help').out);
    expect(folder.run('help', 'check').out).toContain('--strict');
  });

  test('the version is that of the package', async () => {
    const { default: manifest } = await import('../../package.json', { with: { type: 'json' } });
    expect(folder.run('--version').out).toBe(`wattwright ${manifest.version}\n`);
    expect(folder.run('version').out).toBe(`wattwright ${manifest.version}\n`);
  });
});

describe('what it does not understand', () => {
  test.each([
    [['chekc'], 'There is no command "chekc". Did you mean check?'],
    [['check', '--formt', 'json'], '"check" has no option --formt. Did you mean --format?'],
    [
      ['check', '--format', 'jsno'],
      '--format can\'t be "jsno", only text, json, sarif, github, gitlab or junit. Did you mean json?',
    ],
    [['check', '--format'], 'The option --format wants one of text, json, sarif, github, gitlab, junit behind it.'],
    [['check', '--strict=yes'], 'The option --strict takes no value.'],
    [['check', 'nowhere'], 'There is no file or folder "nowhere".'],
    [['explain', 'parts.plant'], 'Something is missing: wattwright explain FILE NAME | CODE'],
    [['explain', 'parts.plant', 'K1.current', 'T1'], '"T1" is one word too many: wattwright explain FILE NAME | CODE'],
    [['values', 'parts.plant'], '"parts.plant" holds no plant, so there is nothing to derive.'],
    [['help', 'formt'], 'There is no command "formt". Did you mean format?'],
  ])('%j', (words, sentence) => {
    const { code, out, err } = folder.run(...words);
    expect(err.split('\n')[0]).toBe(sentence);
    expect(out).toBe('');
    expect(code).toBe(2);
  });

  test('no command at all: the list of commands, and it did not run', () => {
    const { code, out, err } = folder.run();
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('check [PATH…]');
  });

  test('a folder without plants can not be checked, rather than being clean', () => {
    const empty = makeFolder();
    expect(empty.run('check')).toEqual({ code: 2, out: '', err: 'There is no .plant file in ".".\n' });
    empty.remove();
  });
});
