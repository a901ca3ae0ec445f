// Current of cables against what they may carry where they lie.
import { describe, expect, it } from 'vitest';
import { cableAmpacity as check } from '../../../engine/checks/cable-ampacity.ts';
import { bad, expectFixesToHold, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

const direct = (facts: string): Edit => [
  'K1 -> B1',
  `K1 -> W2 -> B1\ncable W2 { length = 2 m, cross_section = 240 mm², ${facts} }`,
];

describe('what a run may carry', () => {
  // IEC 60364-5-52 as open tables have it: 240 mm², XLPE, E 538 A, F 607 A; PVC 430 A; aluminium 409 A; 40 °C 0.91 and
  // 0.87. Grouping from memory: a layer on a tray 0.88 for two, 0.82 for three, 0.77 for four.
  it.each([
    ['installation = E', 538 * 0.91],
    ['installation = F', 607 * 0.91],
    ['installation = E, insulation = pvc', 430 * 0.87],
    ['installation = E, conductor = aluminium', 409 * 0.91],
    ['installation = E, ambient = 5 °C .. 30 °C', 538],
    ['installation = E, parallel = 3', 3 * 538 * 0.91 * 0.82],
    ['installation = E, grouping = 2', 538 * 0.91 * 0.88],
    // Two of its own and two neighbours beside them.
    ['installation = E, parallel = 2, grouping = 3', 2 * 538 * 0.91 * 0.77],
    // Soil: D2 375 A, 20 °C 1.00; two circuits touching 0.75 (from memory).
    ['installation = D2, ambient = 20 °C', 375],
    ['installation = D2, ambient = 20 °C, parallel = 2', 2 * 375 * 0.75],
  ])('%s', (facts, amperes) => {
    expect(worst(sound(direct(facts)), 'W2.ampacity').value).toBeCloseTo(amperes, 6);
  });

  it('is unknown where nothing says how it lies, and that is said', () => {
    const plant = sound(direct('parallel = 4'));
    expect(plant.analysis.values.worst('W2.ampacity')?.value).toBeUndefined();
    expect(plant.analysis.notChecked.join('\n')).toContain('ampacity of W2: no `installation` says how it lies');
    expect(findingsOf(plant, code)).toEqual([]);
    expect(sound(direct('parallel = 4, installation = E')).analysis.notChecked.join('\n')).not.toContain('ampacity');
    expect(sound().analysis.notChecked.join('\n')).not.toContain('ampacity');
  });
});

describe('the judgement', () => {
  it('holds the current of either side up to the ampacity and not beyond', () => {
    const lying = (celsius: number) => direct(`parallel = 2, installation = E, ambient = ${celsius} °C`);
    const current = worst(sound(lying(30)), 'W2.current').value;
    // Straight between two rows of the table: 0.91 at 40 °C, 0.87 at 45 °C … the temperature at which the factor is
    // just what the current needs of 2 · 538 A · 0.88.
    const needed = current / (2 * 538 * 0.88);
    const rows = [30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80];
    const factors = [1, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71, 0.65, 0.58, 0.5, 0.41];
    const index = factors.findIndex(factor => factor < needed);
    const share = (factors[index - 1]! - needed) / (factors[index - 1]! - factors[index]!);
    const limit = rows[index - 1]! + share * (rows[index]! - rows[index - 1]!);
    expectLimit(code, [lying(limit - 0.05)], [lying(limit + 0.05)], 'error');
  });

  it('names how it lies and all that lie there', () => {
    expect(theFinding(bad(check), code).message).toMatch(
      /^W1 carries [\d.]+ A where 554.2 A is what it may carry for good by method E at 40 °C, 2 circuits side by side, 1\d\d\.?\d* %/,
    );
  });

  it('offers a larger cross-section and more in parallel, and both hold', () => {
    const plant = bad(check);
    expect(theFinding(plant, code).fixes.map(({ title }) => title)).toEqual([
      expect.stringMatching(/^Take conductors of \d+ mm²$/),
      'Lay 3 conductors in parallel',
    ]);
    expect(expectFixesToHold(plant, code)).toBe(2);
  });

  it('writes `parallel` where it is not stated', () => {
    const plant = sound(direct('installation = E'));
    expect(expectFixesToHold(plant, code)).toBeGreaterThan(0);
    expect(theFinding(plant, code).fixes.at(-1)!.edits[0]!.text).toMatch(/\n {2}parallel = \d/);
  });

  it('names each fact that decides, the limit and, of a single circuit, no neighbours', () => {
    const plant = sound(direct('installation = E, grouping = 1, parallel = 1, ambient = 5 °C .. 35 °C'));
    const found = theFinding(plant, code);
    expect(found.message).toMatch(/ where 516\.5 A is what it may carry for good by method E at 35 °C, 1\d\d\.?\d* %/);
    expect(found.limit).toEqual({ name: undefined, number: 1, display: '100 %' });
    expect(textAt(plant, found.place)).toBe('cross_section = 240 mm²');
    expect(found.related.map(({ place, message }) => [textAt(plant, place), message])).toEqual([
      ['installation = E', 'How it lies.'],
      ['parallel = 1', 'Conductors that share the current.'],
      ['grouping = 1', 'Its neighbours.'],
      ['ambient = 5 °C .. 35 °C', 'The heat around it.'],
    ]);
    expect(found.fixes.every(({ safe }) => !safe)).toBe(true);
  });

  it('offers only what the same cable may have: its metal, its place in a part', () => {
    // 300 mm² of aluminium carry no more than 240 mm² of copper.
    const titles = (facts: string, ...edits: readonly Edit[]) =>
      theFinding(sound(direct(facts), ...edits), code).fixes.map(({ title }) => title);
    expect(titles('installation = E, conductor = aluminium')).toEqual(['Lay 2 conductors in parallel']);
    const part: Edit = [
      'K1 -> B1',
      'K1 -> W2 -> B1\npart cable Run { length = 2 m, cross_section = 240 mm², installation = E, parallel = 1 }\ncable W2 is Run',
    ];
    expect(theFinding(sound(part), code).fixes).toEqual([]);
    const short: Edit = [part[0], part[1].replace(', parallel = 1', '')];
    expect(theFinding(sound(short), code).fixes).toEqual([]);
  });

  it('offers nothing that a case would undo', () => {
    const text: Edit = ['\nrequire T1.loading', '\ncase thin { W2.parallel = 1 }\n\nrequire T1.loading'];
    const finding = theFinding(sound(direct('parallel = 3, installation = E'), text), code);
    expect(finding.message).toContain('in case thin');
    expect(finding.fixes).toEqual([]);
  });
});

describe('what the table does not hold', () => {
  const note = (facts: string) =>
    findingsOf(sound(direct(`parallel = 4, ${facts}`)), code).map(({ severity, message }) => `${severity}: ${message}`);
  const unjudged = 'note: W2’s current is not judged against what it may carry:';

  it('is told by name', () => {
    expect(note('installation = G')).toEqual([
      `${unjudged} the table that the tool holds has no column for this method and conductor.`,
    ]);
    expect(note('installation = E, ambient = 85 °C')).toEqual([
      `${unjudged} the temperature around it lies outside the 10 °C to 80 °C of the table.`,
    ]);
    expect(note('installation = B1, grouping = 30')).toEqual([
      `${unjudged} so many circuits side by side lie beyond the 20 of the table.`,
    ]);
    const odd = sound([
      'K1 -> B1',
      'K1 -> W2 -> B1\ncable W2 { length = 2 m, cross_section = 230 mm², parallel = 4, installation = E }',
    ]);
    expect(findingsOf(odd, code).map(({ message }) => message)).toEqual([
      'W2’s current is not judged against what it may carry: the table has no such cross-section in the column of this method.',
    ]);
  });

  it('is told of the case in which it begins', () => {
    const inCase = (text: string): Edit => ['require T1.loading <= 95 %', `case odd { ${text} }`];
    const messages = (facts: string, text: string) =>
      findingsOf(sound(direct(facts), inCase(text)), code).map(({ message }) => message);
    expect(messages('parallel = 4, installation = E', 'W2.installation = G')).toEqual([
      'W2’s current is not judged against what it may carry in case odd: the table that the tool holds has no column for this method and conductor.',
    ]);
    expect(messages('parallel = 4', 'W2.installation = E')).toEqual([]);
    expect(messages('parallel = 1', 'W2.installation = E')).toEqual([expect.stringContaining(' in case odd')]);
  });

  it('is not told where the cable itself is not understood', () => {
    for (const facts of ['parallel = 2 V', 'ambient = 5 V .. 10 V'])
      expect(findingsOf(sound(direct(`installation = G, ${facts}`)), code).length).toBe(facts.startsWith('p') ? 0 : 1);
  });

  it('is told of all that lie nowhere', () => {
    const two = sound([
      'K1 -> B1',
      'K1 -> W2 -> W3 -> B1\ncable W2 { length = 2 m, cross_section = 240 mm² }\ncable W3 { length = 2 m, cross_section = 240 mm² }',
    ]);
    expect(two.analysis.notChecked.join('\n')).toContain('ampacity of W2 and W3: no `installation` says how they lie');
  });
});
