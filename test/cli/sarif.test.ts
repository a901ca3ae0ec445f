// `check --format sarif`: valid, complete, and with fingerprints by which a finding is recognised in a later text.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { givenFiles } from '../kit/given.ts';
import { edited } from '../kit/plants.ts';
import { type SarifResult, type SarifRun, validRun } from '../kit/sarif.ts';
import { starter } from '../kit/starter.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

function runOn(files: Readonly<Record<string, string>>, ...words: readonly string[]): SarifRun {
  const folder = givenFiles(files);
  return validRun(folder.run('check', '--format', 'sarif', ...words).out);
}

const draft = Object.fromEntries(starter('first-draft.plant'));
const draftText = draft['first-draft.plant'] ?? '';

function result({ results }: SarifRun, code: string): SarifResult {
  const found = results.find(({ ruleId }) => ruleId === code);
  if (found === undefined) throw new Error(`no ${code} among ${results.map(({ ruleId }) => ruleId).join(', ')}`);
  return found;
}

describe('a draft with a hazard', () => {
  const run = runOn(draft);
  const hazard = result(run, 'uncontrolled_charging');

  test('the hazard is an error with the sentence of the finding', () => {
    expect(hazard.level).toBe('error');
    expect(hazard.message.text).toMatch(/^With the gates blocked, K1’s diodes charge B1/);
    expect(hazard.properties).toMatchObject({ hazard: true, name: 'K1.diode_margin' });
  });

  test('its place is given in UTF-16 code units from the root of the repository', () => {
    expect(run.columnKind).toBe('utf16CodeUnits');
    const { artifactLocation, region } = hazard.locations[0]!.physicalLocation;
    expect(artifactLocation).toEqual({ uri: 'first-draft.plant', uriBaseId: 'ROOT' });
    expect(draftText.split('\n')[region.startLine - 1]?.slice(region.startColumn - 1, region.endColumn - 1)).toBe(
      'secondary_voltage = 400 V',
    );
  });

  test('every rule says why it matters and what to do', () => {
    const { rules } = run.tool.driver;
    expect(new Set(rules.map(({ id }) => id))).toEqual(new Set(run.results.map(({ ruleId }) => ruleId)));
    const text = rules.find(({ id }) => id === 'uncontrolled_charging')?.help.text;
    expect(text).toMatch(/Why it matters: .*six-pulse rectifier[\s\S]*What to do: Choose a lower secondary voltage/);
  });

  test('related places lead to the other contributors', () => {
    expect(hazard.relatedLocations?.map(place => place.physicalLocation.artifactLocation.uri)).toEqual([
      'first-draft.plant',
      'first-draft.plant',
      'parts/lfp-string.plant',
    ]);
  });

  test('the code flow leads from stated facts, each with its value, to the finding', () => {
    const steps = hazard.codeFlows?.[0]?.threadFlows[0]?.locations.map(({ location }) => location) ?? [];
    const texts = steps.map(step => step.message?.text);
    expect(texts).toContainEqual(expect.stringMatching(/^T1\.secondary_voltage = 400 V \(stated\)$/));
    expect(texts.at(-1)).toMatch(/^K1\.diode_margin = -7\.\d+ %/);
    expect(steps.at(-1)?.physicalLocation).toEqual(hazard.locations[0]?.physicalLocation);
  });

  test('fixes stand with the finding', () => {
    expect(hazard.fixes?.map(({ description }) => description.text)).toContain('Lower the secondary voltage to 360 V');
  });

  test('what was not checked is said', () => {
    const said = run.invocations[0]?.toolExecutionNotifications.map(({ message }) => message.text);
    expect(said).toContainEqual(expect.stringMatching(/^Not checked: protection/));
  });
});

test('what was agreed to is suppressed under its own code, with its reason', () => {
  const accepted = result(runOn(Object.fromEntries(starter('valley-station.plant'))), 'transformer_spare');
  expect(accepted.level).toBe('note');
  expect(accepted.suppressions).toEqual([
    { kind: 'inSource', status: 'accepted', justification: 'agreed with the customer, item 12 of the minutes' },
  ]);
});

describe('fingerprints', () => {
  const marks = (files: Readonly<Record<string, string>>): readonly string[] => {
    return runOn(files).results.map(({ ruleId, partialFingerprints }) => {
      return `${ruleId} ${partialFingerprints['primaryLocationLineHash']}`;
    });
  };
  const of = (code: string, text: string): readonly string[] => {
    return marks({ ...draft, 'first-draft.plant': text }).filter(mark => mark.startsWith(`${code} `));
  };
  const before = marks(draft);

  test('are each there once', () => expect(new Set(before).size).toBe(before.length));

  test('stay the same when lines move', () => {
    expect(marks({ ...draft, 'first-draft.plant': `# One line more\n\n\n${draftText}` })).toEqual(before);
  });

  test('stay the same when values change', () => {
    const changed = edited(draftText, ['secondary_voltage = 400 V', 'secondary_voltage = 405 V']);
    expect(of('uncontrolled_charging', changed)).toEqual(of('uncontrolled_charging', draftText));
  });

  test('stay the same whichever file comes first', () => {
    const other = edited(draftText, ['plant FirstDraft', 'plant OtherDraft']);
    const behind = marks({ ...draft, 'z.plant': other });
    const ahead = marks({ ...draft, 'a.plant': other });
    for (const mark of before) {
      expect(behind).toContain(mark);
      expect(ahead).toContain(mark);
    }
  });

  test('change with the tag', () => {
    const renamed = draftText.replaceAll('K1', 'K7');
    const [old = ''] = of('uncontrolled_charging', draftText);
    const now = of('uncontrolled_charging', renamed);
    expect(now).toHaveLength(1);
    expect(now).not.toContain(old);
  });

  test('change with the code', () => {
    expect(new Set(before.map(mark => mark.split(' ')[1])).size).toBe(before.length);
  });

  test('are the same from any folder of the repository', () => {
    const folder = givenFiles({ ...draft, 'package.json': '{}' });
    const inside = givenFiles({});
    const there = validRun(inside.run('check', '--format', 'sarif', folder.at).out);
    expect(there.results.map(one => `${one.ruleId} ${one.partialFingerprints['primaryLocationLineHash']}`)).toEqual(
      before,
    );
  });
});

test('names of files are encoded, each between its slashes', () => {
  const { results } = runOn({ 'Größe 100%/a #1?.plant': 'let peak = 0,4 MW\n' });
  expect(results[0]?.locations[0]?.physicalLocation.artifactLocation.uri).toBe(
    'Gr%C3%B6%C3%9Fe%20100%25/a%20%231%3F.plant',
  );
});

test('more findings than are taken: the hazard stays, and it is said how many are left out', () => {
  const many = Array.from({ length: 5100 }, (_, index) => `let value${index} = 0,4 MW\n`).join('');
  const run = runOn({ ...draft, 'a-many.plant': many });
  expect(run.results).toHaveLength(5000);
  expect(result(run, 'uncontrolled_charging').level).toBe('error');
  const said = run.invocations[0]?.toolExecutionNotifications.map(({ message }) => message.text);
  expect(said).toContainEqual(expect.stringMatching(/^\d+ of 5\d+ findings are left out, the lightest first/));
});

test('a selection is refused: what it leaves out would count as mended', () => {
  const folder = givenFiles(draft);
  const { code, out, err } = folder.run('check', '--format', 'sarif', '--changed-since', 'HEAD');
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(/^SARIF holds every finding/);
});

test('--output writes it into a file', () => {
  const folder = givenFiles(draft);
  const { code } = folder.run('check', '--format', 'sarif', '--output', 'findings.sarif');
  expect(code).toBe(1);
  expect(validRun(readFileSync(path.join(folder.at, 'findings.sarif'), 'utf8')).results.length).toBeGreaterThan(5);
});
