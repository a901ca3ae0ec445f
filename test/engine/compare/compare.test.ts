// What a change of the text does to results, facts, agreements and findings.
import { describe, expect, test } from 'vitest';
import { compareVersions } from '../../../engine/compare/compare.ts';
import { isWorse, type MovedValue, type PlantComparison } from '../../../engine/compare/comparison.ts';
import { type Analysed, analysed, type Edit, edited, type Files } from '../../kit/plants.ts';
import { starter } from '../../kit/starter.ts';

const files = starter('valley-station.plant');
const text = files.get('valley-station.plant')!;
const today = '2026-11-25';
const base = analysed(files, today);

function withText(now: string): Files {
  return new Map([...files].map(([path, was]) => [path, path === 'valley-station.plant' ? now : was]));
}

function compared(before: Analysed, after: Analysed): PlantComparison {
  const version = ({ analysis }: Analysed) => ({ analysis, findings: analysis.findings });
  return compareVersions(version(before), version(after));
}

function changing(...edits: readonly Edit[]): PlantComparison {
  return compared(base, analysed(withText(edited(text, ...edits)), today));
}

function moved({ values }: PlantComparison, name: string): MovedValue {
  const found = values.find(value => value.name === name);
  if (found === undefined) throw new Error(`${name} is not among ${values.map(value => value.name).join(', ')}`);
  return found;
}

describe('a higher secondary voltage', () => {
  const change = changing(['secondary_voltage = 360 V', 'secondary_voltage = 375 V']);

  test('moves the diode margin towards its limit and beyond', () => {
    const margin = moved(change, 'K1.diode_margin');
    expect(margin).toMatchObject({ trend: 'towards', limit: '0 %' });
    // The crest at the terminals grows with the winding's voltage, and the margin is what the battery has above it.
    expect((1 + margin.before!.value!) / (1 + margin.after!.value!)).toBeCloseTo(375 / 360, 3);
  });

  test('moves the converter’s current away from its limit', () => {
    expect(moved(change, 'K1.loading')).toMatchObject({ trend: 'away', limit: '100 %' });
  });

  test('calls a result that nothing judges neither better nor worse', () => {
    expect(moved(change, 'T1.ratio')).toMatchObject({ trend: 'none', change: expect.closeTo(360 / 375 - 1, 6) });
  });

  test('brings a new hazard, and is worse', () => {
    expect(change.findings.new.map(({ code, hazard }) => [code, hazard])).toEqual([['uncontrolled_charging', true]]);
    expect(isWorse(change)).toBe(true);
  });

  test('is one changed fact', () => {
    expect(change.facts).toEqual([
      expect.objectContaining({
        name: 'T1.secondary_voltage',
        what: 'value',
        before: expect.objectContaining({ display: '360 V' }),
        after: expect.objectContaining({ display: '375 V' }),
      }),
    ]);
  });
});

describe('no change at all', () => {
  const nothing = { values: [], facts: [], statements: [], picks: [], renamed: [], elsewhere: 0 };

  test('of lines, comments and order', () => {
    const shuffled = `# moved\n\n${edited(text, ['rated_power = 500 kVA\n  primary_voltage = 400 V', 'primary_voltage = 400 V\n  rated_power = 500 kVA'])}`;
    expect(compared(base, analysed(withText(shuffled), today))).toMatchObject(nothing);
  });

  test('of the unit in which the same is said', () => {
    expect(changing(['impedance = 6 % ± 10 %', 'impedance = 0.06 ± 10 %'])).toMatchObject(nothing);
  });

  test('by rounding: a ten-millionth is none', () => {
    const change = changing(['secondary_voltage = 360 V', 'secondary_voltage = 360.00001 V']);
    expect(change.values).toEqual([]);
    expect(isWorse(change)).toBe(false);
  });
});

test('a better source moves no number', () => {
  const change = changing(['x_over_r = 5', 'x_over_r = 5 from "network owner\'s letter"']);
  expect(change.values).toEqual([]);
  expect(change.facts).toEqual([
    expect.objectContaining({
      name: 'MAIN.x_over_r',
      what: 'provenance',
      before: expect.objectContaining({ provenance: 'stated' }),
      after: expect.objectContaining({ provenance: "stated: network owner's letter" }),
    }),
  ]);
});

describe('a fact that is made of another one', () => {
  const withResistance = (ohms: string) => {
    const part = files.get('parts/lfp-string.plant')!;
    return new Map([...files, ['parts/lfp-string.plant', edited(part, ['25 °C 0.14 Ω', `25 °C ${ohms} Ω`])]]);
  };

  test('is not listed beside it: what the author wrote there is the same', () => {
    expect(text).toContain('B1.resistance = 1.5 * B1.resistance');
    const change = compared(base, analysed(withResistance('0.16'), today));
    expect(change.facts.map(({ name, case: of }) => [name, of])).toEqual([['B1.resistance', undefined]]);
  });

  test('is listed where nothing else is that would tell', () => {
    const worn = (share: string) =>
      analysed(
        withText(`let share = ${share}\n${text.replace('1.5 * B1.resistance', 'share * B1.resistance')}`),
        today,
      );
    const change = compared(worn('1.5'), worn('1.6'));
    expect(change.facts.map(({ name, case: of }) => [name, of])).toEqual([
      ['B1.resistance', 'worn'],
      ['B1.resistance', 'worn_winter'],
    ]);
  });
});

describe('another tag', () => {
  test('with the same facts is taken to be the same component, and it is said why', () => {
    const change = compared(base, analysed(withText(text.replaceAll('T1', 'T7')), today));
    expect(change.renamed).toEqual([
      {
        before: 'T1',
        after: 'T7',
        evidence: expect.stringMatching(/^both are a transformer, \d+ of \d+ stated facts agree/),
      },
    ]);
    expect([change.values, change.facts, change.statements]).toEqual([[], [], []]);
    expect([change.findings.new, change.findings.gone]).toEqual([[], []]);
  });

  test('is not guessed where two could be meant', () => {
    const twins = (a: string, b: string) =>
      analysed(
        withText(`${text}\nlet length = 1 m\nbus ${a} { voltage = 400 V }\nbus ${b} { voltage = 400 V }\n`),
        today,
      );
    const change = compared(twins('N1', 'N2'), twins('N3', 'N4'));
    expect(change.renamed).toEqual([]);
    expect(change.statements.map(({ what, text: said }) => `${what} ${said}`)).toEqual([
      'new bus N3',
      'new bus N4',
      'gone bus N1',
      'gone bus N2',
    ]);
  });
});

test('requirements and agreements that came or went are listed as they are written', () => {
  const change = changing(['require T1.loading <= 95 %', 'require T1.loading <= 96 %']);
  expect(change.statements).toEqual([
    { what: 'new', text: 'require T1.loading <= 96 %' },
    { what: 'gone', text: 'require T1.loading <= 95 %' },
  ]);
});

test('an agreement that ends turns a note into a warning again, which is worse', () => {
  const change = changing(['until 2027-06-30', 'until 2026-06-30']);
  const again = change.findings.changed.map(({ before, after }) => [
    before.code,
    before.severity,
    after.code,
    after.severity,
  ]);
  expect(again).toEqual([['accepted', 'note', 'transformer_spare', 'warning']]);
  expect(change.findings.new.map(({ code }) => code)).toEqual(['acceptance_expired']);
  expect(isWorse(change)).toBe(true);
});

test('a requirement’s bound is the limit that a result moves towards', () => {
  const change = changing(['discharge = peak for 45 min', 'discharge = 405 kW for 45 min']);
  expect(moved(change, 'T1.loading')).toMatchObject({ trend: 'towards', limit: '95 %' });
});

describe('a base that doesn’t parse', () => {
  const broken = analysed(withText(edited(text, ['impedance = 6 % ± 10 %', 'impedance = = 6 %'])), today);

  test('is compared as far as it can be read, and what can’t be is said', () => {
    const change = compared(broken, base);
    expect(change.doubts).toEqual([
      'The text before has a mistake that hinders reading it: what depends on them there could not be compared.',
    ]);
    expect(change.findings.gone.map(({ code }) => code)).toContain('syntax');
    expect(change.still).toBeGreaterThan(10);
  });
});
