// Refactorings: each does what its title says, and the plant computes as before.
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../../engine/analysis.ts';
import { analyze } from '../../../engine/analyze.ts';
import { type Refactoring, refactorings } from '../../../server/features/refactorings.ts';
import { at, snapshotOf, withEdits } from '../../kit/feature.ts';
import { starterText } from '../../kit/feature-starter.ts';

const today = '2026-11-25';

async function offered(source: string) {
  const { context, offset, files } = await at(source);
  const found = refactorings(context, offset, offset, { today, files: [...files.keys()] });
  return { found, files, before: context.analysis };
}

function done(files: ReadonlyMap<string, string>, { edits, create }: Refactoring): Map<string, string> {
  const plain = edits.map(edit => ({ ...edit, text: edit.text.replace(/\$\{\d+:([^}]*)\}/g, '$1') }));
  const after = withEdits(files, plain);
  if (create !== undefined) after.set(create.path, create.text);
  return after;
}

function analysis(files: ReadonlyMap<string, string>): Analysis {
  return analyze('plant.plant', snapshotOf(files), { today });
}

function numbers({ values }: Analysis) {
  return values.names.map(name => [name, values.worst(name)?.value]);
}

function said({ findings }: Analysis) {
  return findings.map(({ code, severity, subject }) => `${severity} ${code} ${subject}`).sort();
}

describe('write the pick', () => {
  const source = starterText('valley-station.plant', 'pick', ['rated_power = 500 kVA', 'rated_power = pick']);

  test('puts what was picked in its place, and nothing computes differently', async () => {
    const { found, files, before } = await offered(source);
    const [write] = found.filter(({ title }) => title.startsWith('Write the pick'));
    const after = done(files, write!);
    expect(after.get('plant.plant')).toMatch(/rated_power = \d+ kVA\n/);
    expect(numbers(analysis(after))).toEqual(numbers(before));
    expect(analysis(after).picks).toEqual([]);
  });

  test('is offered at the pick only', async () => {
    const elsewhere = starterText('valley-station.plant', 'impedance', ['rated_power = 500 kVA', 'rated_power = pick']);
    expect((await offered(elsewhere)).found.map(({ title }) => title)).not.toContainEqual(
      expect.stringContaining('pick'),
    );
  });
});

describe('accept with a reason', () => {
  const tight = starterText('valley-station.plant', 'rated_power', [
    'accept transformer_spare on T1 down to 5 % until 2027-06-30 because "agreed with the customer, item 12 of the minutes"',
    '',
  ]);

  test('the finding becomes a note, the other findings stay', async () => {
    const { found, files, before } = await offered(tight);
    const [accept] = found.filter(({ title }) => title.startsWith('Accept'));
    expect(accept).toMatchObject({ title: 'Accept transformer_spare on T1 with a reason', snippet: true });
    const after = done(files, accept!);
    const line = after.get('plant.plant')?.trimEnd().split('\n').at(-1);
    expect(line).toMatch(/^accept transformer_spare on T1 down to 6\.\d+ % until 2027-11-25 because "reason"$/);
    const now = said(analysis(after));
    expect(now).toContain('note accepted T1');
    expect(now.filter(one => one !== 'note accepted T1')).toEqual(
      said(before).filter(one => one !== 'warning transformer_spare T1'),
    );
  });

  test('the bound just holds what is found, upwards too', async () => {
    const source = starterText('first-draft.plant', 'rated_power');
    const { found, files } = await offered(source);
    const accepts = found.filter(({ title }) => title.startsWith('Accept'));
    expect(accepts).not.toEqual([]);
    for (const accept of accepts) {
      const { findings } = analysis(done(files, accept));
      expect(findings.some(({ code, subject }) => code === 'accepted' && subject === accept.finding?.subject)).toBe(
        true,
      );
      expect(findings.map(({ code }) => code)).not.toContain('acceptance_unused');
      expect(findings.map(({ code }) => code)).not.toContain('syntax');
    }
  });

  test('every finding of the draft that can be accepted: its line is read and does its work', async () => {
    const { context, files } = await at(starterText('first-draft.plant'));
    let accepted = 0;
    for (const { place, hazard, code, subject } of context.analysis.findings) {
      const at = refactorings(context, place.start, place.start, { today, files: [] });
      const accept = at.find(({ finding }) => finding?.code === code && finding.subject === subject);
      if (hazard) expect(accept).toBeUndefined();
      if (accept === undefined) continue;
      accepted += 1;
      const codes = analysis(done(files, accept)).findings.map(finding => finding.code);
      expect(codes).toContain('accepted');
      expect(codes).not.toContain('syntax');
    }
    expect(accepted).toBeGreaterThan(2);
  });

  test('no hazard and no mistake in the text can be accepted', async () => {
    const draft = await offered(starterText('first-draft.plant', 'secondary_voltage'));
    expect(draft.before.findings.some(({ hazard }) => hazard)).toBe(true);
    expect(draft.found.map(({ finding }) => finding?.hazard)).not.toContain(true);
    expect((await offered('plant P { altitude = 5 m }\nlet a = 0‸,4 MW\n')).found).toEqual([]);
  });
});

describe('extract a part', () => {
  const at = (head: string) => starterText('valley-station.plant', head);

  test.each(['transformer T1', 'filter F1', 'grid MAIN', 'battery B1'])('%s, here: the same plant', async head => {
    const { found, files, before } = await offered(at(head));
    const [here] = found.filter(({ kind }) => kind === 'extract');
    const after = done(files, here!);
    expect(after.get('plant.plant')).toMatch(/\npart \w+ \w+ (is \w+ )?\{\n/);
    expect(numbers(analysis(after))).toEqual(numbers(before));
    expect(said(analysis(after))).toEqual(said(before));
  });

  test('into a file of its own, where nothing of this file is named', async () => {
    const { found, files, before } = await offered(at('filter F1'));
    const [, apart] = found.filter(({ kind }) => kind === 'extract');
    expect(apart?.create?.path).toBe('parts/filter-f1.plant');
    const after = done(files, apart!);
    expect(after.get('plant.plant')).toContain('use "parts/filter-f1.plant"\n');
    expect(after.get('plant.plant')).toContain('filter F1 is FilterF1\n');
    expect(numbers(analysis(after))).toEqual(numbers(before));
    expect(said(analysis(after))).toEqual(said(before));
  });

  test('a part of a part, and names of this file, stay in this file', async () => {
    expect((await offered(at('battery B1'))).found.filter(({ kind }) => kind === 'extract')).toHaveLength(1);
  });

  test('not for duties, the plant, or a component whose value is picked', async () => {
    const kinds = async (source: string) => (await offered(source)).found.map(({ kind }) => kind);
    expect(await kinds(at('duty braking'))).not.toContain('extract');
    expect(await kinds(at('plant ValleyStation'))).not.toContain('extract');
    expect(await kinds('transformer ‸T1 { rated_power = pick }\n')).not.toContain('extract');
    expect(await kinds(at('converter K1'))).not.toContain('extract');
  });

  test('the new name is free', async () => {
    const { found } = await offered('let FilterF1 = 3 V\nfilter ‸F1 { capacitance = 300 µF }\n');
    expect(found[0]?.title).toBe('Extract F1 into the part FilterF1_2');
  });
});
