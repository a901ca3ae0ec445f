// `check` as people and pipelines meet it.
import { readFileSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { checkOutput } from '../../server/cli/schemas.ts';
import { givenFiles as given } from '../kit/given.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const root = path.resolve(import.meta.dirname, '../..');

const soundParts = 'let peak = 400 kW\n';
const commaMistake = 'let peak = 0,4 MW\n';

describe('what was not checked', () => {
  const hut = 'plant Hut {\n}\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz ± 1 % }\n';
  const wired = `${hut}cable W1 { length = 9 m, cross_section = 95 mm² }\n`;

  test('stands below the count, with the file where it does not hold for every plant', () => {
    const { out } = given({ 'hut.plant': hut, 'wired.plant': wired, 'parts.plant': soundParts }).run('check');
    const said = out.slice(out.indexOf('\nNot checked:\n')).trim().split('\n');
    expect(said).toContain('  fire, gas and touch protection');
    expect(said).toContain('  heating over time of W1 (wired.plant)');
  });

  test('is in the output for programs, plant by plant', () => {
    const { out } = given({ 'hut.plant': hut, 'wired.plant': wired }).run('check', '--format', 'json');
    const { plants } = checkOutput.parse(JSON.parse(out));
    expect(plants.map(({ notChecked }) => notChecked.includes('heating over time of W1'))).toEqual([false, true]);
  });
});

describe('the excerpt in the README', () => {
  test('is what is said of the first draft, passages left out', () => {
    const starter = path.join(root, 'client/starter');
    const names = ['first-draft.plant', 'house-rules.plant', 'parts/lfp-string.plant', 'parts/converters.plant'];
    const texts = names.map(
      name => [`client/starter/${name}`, readFileSync(path.join(starter, name), 'utf8')] as const,
    );
    const { out } = given(Object.fromEntries(texts)).run('check', 'client/starter/first-draft.plant');
    const readme = readFileSync(path.join(root, 'README.md'), 'utf8');
    const shown = /<!-- excerpt: check -->\n```text\n\$ npx wattwright (.*)\n([\s\S]*?)```/.exec(readme)!;
    expect(shown[1]).toBe('check client/starter/first-draft.plant');
    const passages = shown[2]!.split('\n\n').map(passage => passage.trim());
    const told = passages.filter(passage => passage !== '' && passage !== '…');
    expect(told.length).toBeGreaterThan(3);
    for (const passage of told) expect(out).toContain(passage);
  });
});

describe('exit codes', () => {
  test('0 without errors', () => {
    expect(given({ 'parts.plant': soundParts }).run('check').code).toBe(0);
  });

  test('1 with an error', () => {
    expect(given({ 'parts.plant': commaMistake }).run('check').code).toBe(1);
  });

  test('2 where a file can not be read, whatever the others hold', () => {
    const folder = given({ 'parts.plant': soundParts });
    folder.write('photo.plant', new Uint8Array([137, 80, 0, 71]));
    const { code, out, err } = folder.run('check');
    expect(code).toBe(2);
    expect(err).toBe('"photo.plant" could not be read: it is not a text file (it holds zero bytes).\n');
    expect(out).toContain('Checked');
  });

  test('2 where nothing could be read, which is not called free of findings', () => {
    const folder = given({});
    folder.write('photo.plant', new Uint8Array([137, 80, 0, 71]));
    const { code, out } = folder.run('check', 'photo.plant');
    expect(code).toBe(2);
    expect(out).toBe('Nothing was checked.\n');
  });

  test('2 for what is no UTF-8 and for what is far too long', () => {
    const folder = given({});
    folder.write('latin.plant', new Uint8Array([0x6c, 0xe4, 0x0a]));
    folder.write('long.plant', `# ${'x'.repeat(5_100_000)}\n`);
    const { code, err } = folder.run('check');
    expect(code).toBe(2);
    expect(err).toContain('"latin.plant" could not be read: it is not encoded in UTF-8.');
    expect(err).toContain('"long.plant" could not be read: it is 5.1 MB long, more than 5 MB.');
  });
});

describe('text', () => {
  test('each finding: place, severity, code, sentence, the line with a marker, the fix', () => {
    const { out } = given({ 'parts.plant': commaMistake }).run('check');
    expect(out.split('\n').slice(0, 3)).toEqual([
      expect.stringMatching(/^parts\.plant:1:12: error\[decimal_comma\]: .*0\.4/),
      '   1 | let peak = 0,4 MW',
      '     |            ^^^',
    ]);
    expect(out).toContain('fix: ');
  });

  test('a summary at the end', () => {
    const folder = given({ 'a.plant': soundParts, 'b.plant': commaMistake });
    expect(folder.run('check').out).toMatch(/^Checked 0 plants and 2 parts files: 1 error\.$/m);
  });

  test('no colours where nobody looks at a terminal', () => {
    expect(given({ 'parts.plant': commaMistake }).run('check').out).not.toContain('\u001b');
  });

  test('a file can not steer the terminal', () => {
    const { out } = given({ 'parts.plant': 'let peak = 0,4 MW # \u001b[2J\n' }).run('check');
    expect(out).toContain('MW # \ufffd[2J');
  });

  test('tabs and letters of several characters keep the marker in place', () => {
    const { out } = given({ 'parts.plant': 'practice 𝒜e\u0301 {\n\tripple = 0,3\n}\n' }).run('check');
    const lines = out.split('\n');
    const at = lines.findIndex(line => line.includes('ripple = 0,3'));
    expect(lines[at + 1]?.indexOf('^')).toBe(lines[at]?.indexOf('0,3'));
  });
});

describe('JSON', () => {
  test('is what its schema says, with lines and columns from 1', () => {
    const { out } = given({ 'a.plant': commaMistake, 'b.plant': soundParts }).run('check', '--format', 'json');
    const output = checkOutput.parse(JSON.parse(out));
    expect(output.plants.map(({ path: file, plant }) => [file, plant])).toEqual([
      ['a.plant', null],
      ['b.plant', null],
    ]);
    expect(output.plants[0]?.findings[0]).toMatchObject({
      code: 'decimal_comma',
      severity: 'error',
      range: { start: { line: 1, column: 12 }, end: { line: 1, column: 15 } },
    });
    expect(output.counts).toEqual({ errors: 1, warnings: 0, notes: 0, hints: 0 });
  });

  test('says the same twice', () => {
    const folder = given({ 'a.plant': commaMistake, 'b/c.plant': commaMistake });
    expect(folder.run('check', '--format', 'json').out).toBe(folder.run('check', '--format', 'json').out);
  });

  test('--output writes it into a file', () => {
    const folder = given({ 'a.plant': commaMistake });
    const { code, out } = folder.run('check', '--format', 'json', '--output', 'out/findings.json');
    expect([code, out]).toEqual([1, '']);
    const written = readFileSync(path.join(folder.at, 'out/findings.json'), 'utf8');
    expect(checkOutput.parse(JSON.parse(written)).counts.errors).toBe(1);
  });
});

test('--output where nothing can be written: said, exit code 2', () => {
  const { code, out, err } = given({ 'a.plant': soundParts }).run('check', '--output', 'a.plant/out.txt');
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(/^"a\.plant\/out\.txt" could not be written: /);
});

describe('files that belong together', () => {
  const plant = (use: string) => `use "${use}"\n\nplant Station {\n  altitude = 1400 m\n}\n`;

  test('a mistake in a shared part is shown once, in the part', () => {
    const folder = given({
      'parts/p.plant': commaMistake,
      'a.plant': plant('parts/p.plant'),
      'b.plant': plant('parts/p.plant'),
    });
    const output = checkOutput.parse(JSON.parse(folder.run('check', '--format', 'json').out));
    const commas = output.plants.map(({ path: file, findings }) => {
      return [file, findings.filter(({ code }) => code === 'decimal_comma').length];
    });
    expect(commas).toEqual([
      ['a.plant', 0],
      ['b.plant', 0],
      ['parts/p.plant', 1],
    ]);
  });

  test('the part of a plant that alone is checked is shown under its own path', () => {
    const folder = given({ 'parts/p.plant': commaMistake, 'a.plant': plant('parts/p.plant') });
    expect(folder.run('check', 'a.plant').out).toMatch(/^parts\/p\.plant:1:12: error\[decimal_comma\]/m);
  });

  test('a part that is not there is said on the line that wants it', () => {
    const { code, out } = given({ 'a.plant': plant('parts/gone.plant') }).run('check');
    expect(code).toBe(1);
    expect(out).toMatch(/^a\.plant:1:5: error\[missing_file\]/m);
  });

  test('nothing outside of the workspace is read: neither by dots nor through a link', () => {
    const outside = given({ 'secret.plant': commaMistake });
    const folder = given({ 'a.plant': plant('../secret.plant'), 'b.plant': plant('link.plant') });
    symlinkSync(path.join(outside.at, 'secret.plant'), path.join(folder.at, 'link.plant'));
    const { out } = folder.run('check', 'a.plant', 'b.plant');
    expect(out).toMatch(/^a\.plant:1:5: error\[outside_workspace\]/m);
    expect(out).toMatch(/^b\.plant:1:5: error\[outside_workspace\]/m);
    expect(out).not.toContain('decimal_comma');
  });

  test('the workspace begins where a package.json lies', () => {
    const folder = given({
      'package.json': '{}',
      'parts/p.plant': soundParts,
      'plants/a.plant': plant('../parts/p.plant'),
    });
    expect(folder.run('check', 'plants').out).not.toContain('outside_workspace');
    const bare = given({ 'parts/p.plant': soundParts, 'plants/a.plant': plant('../parts/p.plant') });
    expect(bare.run('check', 'plants').out).toContain('outside_workspace');
  });

  test('installed packages and hidden folders are left alone', () => {
    const folder = given({
      'a.plant': soundParts,
      'node_modules/x/b.plant': commaMistake,
      '.old/c.plant': commaMistake,
    });
    expect(folder.run('check').out).toMatch(/^Checked 0 plants and 1 parts file: no findings\.$/m);
  });
});
