// Hover: what is told about the word or number at the mark.
import { describe, expect, test } from 'vitest';
import { twoChoppers } from '../../kit/choppers.ts';
import { shown } from '../../kit/hover.ts';
import { edited } from '../../kit/plants.ts';
import { starter } from '../../kit/starter.ts';

/** Which results a hover lists, in its order. */
function resultsIn(found: Awaited<ReturnType<typeof shown>>): readonly string[] {
  return [...(found?.says ?? '').matchAll(/^- \[.*\?([\w.]+)\)/gm)].map(row => row[1]!);
}

describe('facts', () => {
  test('meaning, dimension, need, example and source', async () => {
    const found = await shown('grid MAIN {\n  volt‸age = 400 V from "connection agreement, 4.2"\n}\n');
    expect(found?.of).toBe('voltage');
    expect(found?.says).toContain('line to line');
    expect(found?.says).toContain('a voltage');
    expect(found?.says).toContain('required');
    expect(found?.says).toContain('Stated with its source: connection agreement, 4.2.');
  });

  test('what an author assumed, and what stands there bare', async () => {
    expect((await shown('plant P { ambi‸ent = 5 °C .. 40 °C assumed "heated" }\n'))?.says).toContain(
      'Assumed by the author: heated.',
    );
    expect((await shown('plant P { alti‸tude = 5 m }\n'))?.says).toContain('Stated here, without a source.');
  });

  test('in a case it is the property of the component', async () => {
    expect((await shown('battery B1 { strings = 4 }\ncase cold { B1.tempe‸rature = 5 °C }\n'))?.says).toContain(
      'of a battery',
    );
  });

  test('what is not known has nothing to tell', async () => {
    expect((await shown('grid MAIN { nonsen‸se = 5 V }\n'))?.says ?? '').not.toContain('nonsense** of');
  });
});

describe('units', () => {
  // The factors are those of the SI brochure (9th edition, tables 7 and 8): 1 min = 60 s, 1 mm² = 1e-6 m².
  test.each([
    ['cable W1 { cross_section = 240 mm‸² }\n', '240 mm² is an area: 0.00024 m²'],
    ['duty d { discharge = 400 kW for 45 mi‸n }\n', '45 min is a time: 2700 s'],
    ['battery B1 { temperature = 15 °‸C }\n', '15 °C is a temperature: 288.15 K'],
    // What is written in SI already is not said again.
    ['cable W1 { length = 35 ‸m }\n', '35 m is a length'],
  ])('%s', async (marked, says) => {
    expect((await shown(marked))?.says).toBe(says);
  });
});

describe('names', () => {
  test('a kind', async () => {
    expect((await shown('gr‸id MAIN { voltage = 400 V }\n'))?.says).toMatch(/^\*\*grid\*\*: /);
  });

  test('a case: what it states anew, and what the cases state that it is made of', async () => {
    const text = `battery B1 { strings = 4 }
case cold { B1.temperature = 5 °C }
case worn { B1.state_of_health = 80 %, B1.temperature = 20 °C }
## The worst winter.
case both is cold, worn { B1.temperature = 2 °C }
`;
    const found = await shown(text.replace('case both', 'case bo‸th'));
    expect(found?.of).toBe('both');
    expect(found?.says).toBe(
      '**case both is cold, worn**\n\nThe worst winter.\n\n- `B1.state_of_health = 80 %` (worn)\n- `B1.temperature = 2 °C`',
    );
    expect((await shown(text.replace('is cold', 'is co‸ld')))?.says).toBe('**case cold**\n\n- `B1.temperature = 5 °C`');
  });

  test('cases that are made of each other in a circle, of many, or of one that is not there', async () => {
    const circle = await shown('case a‸a is bb { B1.strings = 3 }\ncase bb is aa { B1.soc = 50 % }\n');
    expect(circle?.says).toBe('**case aa is bb**\n\n- `B1.soc = 50 %` (bb)\n- `B1.strings = 3`');
    const many = Array.from({ length: 15 }, (_, index) => `  B${index}.strings = 3`).join('\n');
    expect((await shown(`case ma‸ny {\n${many}\n}\n`))?.says).toMatch(/B11\.strings = 3`\n- and 3 more$/);
    expect(await shown('case aa is gho‸st { B1.strings = 3 }\n')).toBeUndefined();
  });

  test('what is accepted: the finding and what its limit rests on', async () => {
    const text = 'accept transformer_sp‸are on T1 down to 5 % because "agreed"\n';
    const found = await shown(text);
    expect(found?.of).toBe('transformer_spare');
    expect(found?.says).toMatch(/^\*\*transformer\\_spare\*\*: [A-Z][^\n]+\n\nWhere the limit comes from: practice /);
    expect(await shown(text.replace('r_sp', 'r_wr'))).toBeUndefined();
  });

  test('a tag in a chain: what it is, with its own words', async () => {
    const found = await shown('## The valley side.\ngrid MAIN { voltage = 400 V }\nconnect MA‸IN -> W1\n');
    expect(found?.of).toBe('MAIN');
    expect(found?.says).toContain('grid MAIN');
    expect(found?.says).toContain('The valley side.');
  });

  test('the plant: what was not checked of it', async () => {
    const found = await shown('plant Hu‸t {\n}\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }\n');
    expect(found?.says).toContain('plant Hut');
    expect(found?.says).toMatch(/\n\nNot checked:\n(\n- [^\n]+)*\n- fire, gas and touch protection/);
  });

  test('a component: its results, and never "1 more" in the place of that one', async () => {
    const text = starter('valley-station.plant');
    for (const tag of ['F1', 'T1', 'K1']) {
      const marked = text.get('valley-station.plant')!.replace(new RegExp(`^(\\w+ ${tag})`, 'm'), '$1‸');
      const others = [...text].filter(([path]) => path !== 'valley-station.plant');
      const whole = [marked, ...others.map(([path, other]) => `--- ${path}\n${other}`)].join('');
      const rows = (await shown(whole))?.says.split('\n').filter(row => row.startsWith('- ')) ?? [];
      expect(rows.length, tag).toBeGreaterThan(5);
      expect(rows.filter(row => row === '- and 1 more')).toEqual([]);
    }
  });

  test('a component: what matters most stands first, what is not known last', async () => {
    const starting = starter('valley-station.plant');
    const text = edited(twoChoppers, ['converter K1', 'converter K1‸']);
    const rows = resultsIn(await shown(text));
    expect(rows.slice(0, 4).toSorted()).toEqual([
      'K1.control_margin',
      'K1.diode_margin',
      'K1.loading',
      'K1.voltage_reserve',
    ]);
    const cable = starting.get('valley-station.plant')!.replace(/^cable (\w+)/m, 'cable $1‸');
    const others = [...starting].filter(([path]) => path !== 'valley-station.plant');
    const whole = [cable, ...others.map(([path, other]) => `--- ${path}\n${other}`)].join('');
    const known = (await shown(whole))!.says
      .split('\n')
      .filter(row => row.startsWith('- '))
      .map(row => !row.includes('unknown'));
    expect(known).toContain(false);
    expect(known).toEqual(known.toSorted((a, b) => Number(b) - Number(a)));
  });

  test('a chopper among several: which part of the link it carries is seen at once', async () => {
    const found = await shown(edited(twoChoppers, ['chopper Q1', 'chopper Q1‸']));
    expect(resultsIn(found)[0]).toBe('Q1.loading');
    expect(found?.says).toContain('[Q1.link\\_share](command:show?Q1.link_share) = 50 %');
  });

  test('a finding on a long way through the plant: the own values of its component come first', async () => {
    const text = edited(twoChoppers, [
      'current = 750 A\n  efficiency = 98 %\n}\n\nbattery',
      'curr‸ent = 400 A\n  efficiency = 98 %\n}\n\nbattery',
    ]);
    const inputs = (await shown(text))!.says
      .split('The whole derivation')[0]!
      .split('\n')
      .filter(row => row.startsWith('- '));
    expect(inputs.length).toBe(9);
    const own = inputs.map(row => row.startsWith('- [Q2.'));
    expect(own).toContain(true);
    expect(own).toEqual(own.toSorted((a, b) => Number(b) - Number(a)));
    expect(inputs.join('\n')).toContain('[Q2.link\\_share](command:show?Q2.link_share) = 50 %');
  });

  test('a part of another file', async () => {
    const found = await shown(
      'use "p.plant"\nbattery B1 is Lf‸p\n--- p.plant\n## One string.\npart battery Lfp { strings = 2 }\n',
    );
    expect(found?.says).toContain('part battery Lfp');
    expect(found?.says).toContain('p.plant');
    expect(found?.says).toContain('One string.');
  });

  test('a catalogue behind an alias, and a row of it', async () => {
    const behind =
      '\n--- p.plant\n## The range.\ncatalogue converter List {\n  ## The big one.\n  big { ac_current = 40 A }\n}\n';
    const catalogue = await shown(`use "p.plant" as range\nconverter K1 is range.Li‸st.big${behind}`);
    expect(catalogue?.says).toBe('`catalogue converter List` in p.plant\n\nThe range.');
    const row = await shown(`use "p.plant" as range\nconverter K1 is range.List.bi‸g${behind}`);
    expect(row?.says).toBe('`big { ac_current = 40 A }` in p.plant\n\nThe big one.');
    expect(await shown(`use "p.plant" as range\nconverter K1 is range.List.sm‸all${behind}`)).toBeUndefined();
  });

  test('a result in a requirement: value, formula, numbers, and a way further', async () => {
    const found = await shown(
      'plant P { altitude = 5 m }\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz, fault_power = 9 MVA, x_over_r = 5 }\nrequire MAIN.voltage_l‸ow >= 350 V\n',
    );
    // 400 V less 10 %.
    expect(found?.says).toContain('= 360 V**');
    expect(found?.says).toContain('(command:show?MAIN.voltage_low)');
  });
});

describe('text from files is shown and never obeyed', () => {
  test('links and markup in a source', async () => {
    const found = await shown('grid MAIN { volt‸age = 400 V from "[a](command:evil) <b> `x`" }\n');
    expect(found?.says).toContain('\\[a\\]\\(command:evil\\) \\<b\\> \\`x\\`');
  });
});

test('nothing on an empty line', async () => {
  expect(await shown('\n‸\n')).toBeUndefined();
});
