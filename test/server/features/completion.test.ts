// Completion: what is offered at the mark. Placeholders are shown as ⟨words⟩.
import { describe, expect, test } from 'vitest';
import { asksForResults, type Completion, completion } from '../../../server/features/completion.ts';
import { type At, at } from '../../kit/feature.ts';

/** As the server does: with results only where they are asked for. */
function offered({ context, offset }: At): readonly Completion[] {
  const analysis = asksForResults(context.tree, offset) ? context.analysis : undefined;
  return completion({ ...context, analysis }, offset);
}

async function labels(marked: string): Promise<readonly string[]> {
  return offered(await at(marked)).map(({ label }) => label);
}

/** The text after choosing the offer of that label. */
async function chosen(marked: string, label: string): Promise<string> {
  const place = await at(marked);
  const { text } = place;
  const offer = offered(place).find(one => one.label === label);
  if (offer === undefined) throw new Error(`${label} is not offered.`);
  const shown = offer.text.replace(/\$\{\d+[:|]([^}|]*)\|?\}/g, '⟨$1⟩');
  return text.slice(0, offer.start) + shown + text.slice(offer.end);
}

describe('at the beginning of a line', () => {
  test('whole components and the words that begin a declaration', async () => {
    expect(await labels('‸')).toEqual(
      expect.arrayContaining(['plant', 'grid', 'battery', 'duty', 'connect', 'use', 'accept']),
    );
  });

  test('also below a finished declaration, and while a word is being typed', async () => {
    expect(await labels('bus B2 { voltage = 400 V }\n\nba‸')).toContain('battery');
    expect(await chosen('ba‸', 'battery')).toMatch(/^battery ⟨B1⟩/);
  });

  test('words of the language with what they mean', async () => {
    const meaning = async (marked: string, label: string) =>
      offered(await at(marked)).find(one => one.label === label)?.markdown;
    expect(await meaning('‸', 'connect')).toMatch(/^\*\*connect\*\*: What is connected to what/);
    expect(await meaning('duty d { discharge = 400 kW ‸ }\n', 'for')).toMatch(/^\*\*for\*\*: /);
    expect(await meaning('accept a on B ‸\n', 'down to')).toMatch(/^\*\*down\*\*: /);
    expect(await meaning('let a = ‸\n', 'max')).toMatch(/^\*\*max\*\*: /);
  });

  test('a plant first in an empty file, and last where one stands already', async () => {
    expect((await labels('‸'))[0]).toBe('plant');
    const offered = await labels('plant Hut { altitude = 5 m }\n‸');
    expect(offered.indexOf('plant')).toBe(offered.length - 1);
    expect(offered[0]).toBe('grid');
  });

  test("components made of the team's own parts", async () => {
    const offered = await labels('use "p.plant" as range\n‸\n--- p.plant\npart battery Lfp { strings = 2 }\n');
    expect(offered).toContain('battery is range.Lfp');
  });

  test('with a name that the file has not given yet, to whatever', async () => {
    const plant =
      'grid MAIN { voltage = 400 V }\nbattery B1 { strings = 2 }\nlet B2 = 3 V\nduty start_peak { at = MAIN }\n';
    expect(await chosen(`${plant}ba‸`, 'battery')).toMatch(/\nbattery ⟨B3⟩/);
    expect(await chosen(`${plant}gr‸`, 'grid')).toMatch(/\ngrid ⟨MAIN2⟩/);
    expect(await chosen(`${plant}du‸`, 'duty')).toMatch(/\nduty ⟨start_peak2⟩/);
    expect(await chosen(`${plant}tr‸`, 'transformer')).toMatch(/\ntransformer ⟨T1⟩/);
    const parts = `use "p.plant"\n${plant}ba‸\n--- p.plant\npart battery Lfp { strings = 2 }\n`;
    expect(await chosen(parts, 'battery is Lfp')).toContain('battery ⟨B3⟩ is Lfp');
  });
});

describe('in a block', () => {
  test('what it still lacks, the required first', async () => {
    const offered = await labels('grid MAIN {\n  frequency = 50 Hz\n  ‸\n}\n');
    expect(offered[0]).toBe('voltage');
    expect(offered).toContain('x_over_r');
    expect(offered).not.toContain('frequency');
  });

  test('also on one line, behind a comma, and where a word has begun', async () => {
    expect((await labels('cable W1 { length = 35 m, ‸ }\n'))[0]).toBe('cross_section');
    expect(await chosen('cable W1 { length = 35 m, cr‸ }\n', 'cross_section')).toContain(
      'length = 35 m, cross_section = ⟨',
    );
  });

  test('a placeholder that shows a value with the right unit', async () => {
    expect(await chosen('converter K1 {\n  ‸\n}\n', 'ac_current')).toContain('ac_current = ⟨850 A⟩');
    expect(await chosen('converter K1 {\n  ‸\n}\n', 'dc_voltage')).toContain('dc_voltage = ⟨550 V .. 850 V⟩');
  });

  test('where the block is not closed yet', async () => {
    expect((await labels('grid MAIN {\n  ‸\n\ncable W1 { length = 3 m }\n'))[0]).toBe('voltage');
    expect((await labels('grid MAIN {\r\n  frequency = 50 Hz\r\n  ‸'))[0]).toBe('voltage');
  });

  test('a choice offers its words', async () => {
    expect(await chosen('cable W1 {\n  ‸\n}\n', 'conductor')).toContain('conductor = ⟨copper,aluminium⟩');
  });

  test('the rows of a catalogue have the properties of its kind', async () => {
    expect(await labels('catalogue converter Air {\n  k1 { ‸ }\n}\n')).toContain('ac_current');
    expect(await labels('catalogue converter Air {\n  ‸\n}\n')).toEqual([]);
  });
});

describe('behind a number', () => {
  test('units of the right dimension only', async () => {
    const offered = await labels('grid MAIN {\n  voltage = 400 ‸\n}\n');
    expect(offered).toEqual(expect.arrayContaining(['V', 'kV']));
    expect(offered).not.toContain('A');
  });

  test('with a blank between, where there is none', async () => {
    expect(await chosen('grid MAIN {\n  voltage = 400‸\n}\n', 'kV')).toContain('voltage = 400 kV\n');
    expect(await chosen('grid MAIN {\n  voltage = 400 k‸\n}\n', 'kV')).toContain('voltage = 400 kV\n');
  });

  test('a tolerance may be in per cent', async () => {
    expect((await labels('grid MAIN {\n  voltage = 400 V ± 10 ‸\n}\n'))[0]).toBe('%');
  });

  test('a time behind `for`', async () => {
    const offered = await labels('duty d { discharge = 400 kW for 45 ‸ }\n');
    expect(offered).toEqual(expect.arrayContaining(['min', 's', 'h']));
    expect(offered).not.toContain('kW');
  });
});

describe('behind `=`', () => {
  test('the words of a choice', async () => {
    expect(await labels('cable W1 { conductor = ‸ }\n')).toEqual(['copper', 'aluminium']);
  });

  test('components where a component is wanted', async () => {
    const offered = await labels('grid MAIN { voltage = 400 V }\ncable W1 { length = 3 m }\nduty d { at = ‸ }\n');
    expect(offered).toContain('MAIN');
  });

  test('practices of the file and of those that it uses', async () => {
    const offered = await labels(
      'use "h.plant"\nplant P { follows = ‸ }\n--- h.plant\npractice House { ripple = 20 % }\n',
    );
    expect(offered).toEqual(['House']);
  });

  test('an example, and the lets of the file', async () => {
    const offered = await labels('let peak = 400 kW\nduty d { discharge = ‸ }\n');
    expect(offered).toEqual(expect.arrayContaining(['400 kW for 45 min', 'peak', 'min']));
  });

  test('behind a value: where it comes from, and the clauses of the property', async () => {
    expect(await labels('duty d { discharge = 400 kW ‸ }\n')).toEqual(['for', 'every', 'from', 'assumed']);
    expect(await labels('duty d { discharge = 400 kW for 45 min ‸ }\n')).toEqual(['every', 'from', 'assumed']);
  });
});

describe('names', () => {
  const plant = 'grid MAIN { voltage = 400 V }\ncable W1 { length = 3 m }\nduty peak { discharge = 400 kW }\n';

  test('tags in a chain', async () => {
    expect(await labels(`${plant}connect MAIN -> ‸\n`)).toEqual(['MAIN', 'W1']);
  });

  test('parts of the right kind behind `is`', async () => {
    const files =
      '--- p.plant\npart battery Lfp { strings = 2 }\ncatalogue converter Air {\n  k1 { ac_current = 5 A }\n}\n';
    expect(await labels(`use "p.plant"\nbattery B1 is ‸\n${files}`)).toEqual(['Lfp', 'pick']);
    expect(await labels(`use "p.plant" as r\nconverter K1 is r.‸\n${files}`)).toEqual(['Air', 'Air.k1']);
  });

  test('in a case: tags, then their properties, then units', async () => {
    expect(await labels(`${plant}case c { ‸ }\n`)).toEqual(['MAIN', 'W1']);
    expect(await labels(`${plant}case c { W1.‸ }\n`)).toContain('cross_section');
    expect(await labels(`${plant}case c { W1.length = 4 ‸ }\n`)).toContain('km');
  });

  test('duties behind `during`', async () => {
    expect(await labels(`${plant}require W1.drop <= 2 % during ‸\n`)).toEqual(['peak']);
  });

  test('codes behind `accept`, without hazards of the text', async () => {
    const offered = await labels(`${plant}accept ‸\n`);
    expect(offered).toContain('transformer_spare');
    expect(offered).not.toContain('syntax');
  });

  test('paths behind `use`', async () => {
    expect(await labels('use "‸"\n--- parts/a.plant\nlet x = 1 V\n--- b.plant\nlet y = 1 V\n')).toEqual([
      'b.plant',
      'parts/a.plant',
    ]);
  });
});

describe('nowhere else', () => {
  test.each([
    ['in a comment', '# ba‸\n'],
    ['behind a fact', 'grid MAIN {\n  voltage = 400 V # k‸\n}\n'],
    ['in other text in quotes', 'let x = 3 V from "le‸"\n'],
    ['in the name of something new', 'battery B‸\n'],
  ])('%s', async (_, marked) => {
    expect(await labels(marked)).toEqual([]);
  });
});
