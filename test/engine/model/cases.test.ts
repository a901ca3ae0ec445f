// Cases: they restate facts all at once from the base values, and combine only where they don't contradict each other.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesWith } from '../../kit/mistakes.ts';
import { analysed, complaints, valueAt, worst } from '../../kit/plants.ts';

const withCases = (lines: string) => analysed(`${soundExample}\n${lines}\n`);
const ratio = (lines: string, name: string) => valueAt(withCases(lines), 'T1.ratio', { case: name });
const messagesOf = (lines: string) => complaints(withCases(lines)).map(finding => finding.message);

describe('a case', () => {
  it('restates facts, and the base case stays', () => {
    const plant = withCases('case low { T1.secondary_voltage = 180 V }');
    expect(valueAt(plant, 'T1.ratio', { case: 'low' })).toBeCloseTo(
      2 * valueAt(plant, 'T1.ratio', { case: undefined }),
      9,
    );
  });

  it('reads base values, all at once', () => {
    const swapped =
      'case swapped { T1.primary_voltage = T1.secondary_voltage, T1.secondary_voltage = T1.primary_voltage }';
    expect(ratio(swapped, 'swapped')).toBeCloseTo(360 / 400, 9);
  });

  it('may restate a fact from itself', () => {
    expect(ratio('case low { T1.secondary_voltage = T1.secondary_voltage / 2 }', 'low')).toBeCloseTo(800 / 360, 9);
  });

  it.each([
    ['the plant', 'MountainStation.altitude = 950 m'],
    ['its house rules', 'HouseRules.transformer_spare = 2 %'],
    ['the network', 'MAIN.fault_power = 8 MVA .. 9 MVA'],
    ['a duty', 'start_peak.duration = 30 min'],
  ])('may restate %s', (_, line) => expect(mistakesWith(`case a { ${line} }`)).toEqual([]));

  it('may be empty', () => expect(mistakesWith('case a { }\ncase b')).toEqual([]));

  it('restates the times behind a power with it', () => {
    const lasting = (line: string) => withCases(`require start_peak.discharge == 400 kW\ncase a { ${line} }`);
    // 45 min in the base case hold; 10 h exhaust the battery.
    expect(complaints(lasting('start_peak.discharge = 400 kW')).map(finding => finding.code)).toEqual([]);
    expect(complaints(lasting('start_peak.discharge = 400 kW for 10 h')).map(finding => finding.code)).toContain(
      'discharge_time',
    );
    expect(complaints(lasting('start_peak.duration = 10 h')).map(finding => finding.code)).toContain('discharge_time');
  });
});

describe('cases combine', () => {
  const two = 'case low { T1.secondary_voltage = 180 V }\ncase high { T1.primary_voltage = 800 V }';

  it('in a case that is made from them', () => {
    expect(ratio(`${two}\ncase both is low, high`, 'both')).toBeCloseTo(800 / 180, 9);
    expect(ratio(`case both is low, high\n${two}`, 'both')).toBeCloseTo(800 / 180, 9);
  });

  it('and not by themselves', () => {
    const plant = withCases(two);
    expect(plant.analysis.values.all('T1.ratio').map(row => row.point.case)).toEqual([undefined, 'low', 'high']);
  });

  it('with what the new one restates itself', () => {
    expect(ratio(`${two}\ncase both is low, high { T1.primary_voltage = 400 V }`, 'both')).toBeCloseTo(400 / 180, 9);
  });

  const contradicting = 'case a { B1.temperature = 22 °C }\ncase b { B1.temperature = 24 °C }';

  it('unless they contradict each other', () => {
    expect(mistakesWith(`${contradicting}\ncase ab is a, b`)).toEqual(['duplicate at "b"']);
    expect(messagesOf(`${contradicting}\ncase ab is a, b`)[0]).toContain('both restate `B1.temperature`');
  });

  it('where the contradiction is settled, or is none', () => {
    expect(mistakesWith(`${contradicting}\ncase ab is a, b { B1.temperature = 23 °C }`)).toEqual([]);
    expect(
      mistakesWith('case a { B1.temperature = 22 °C }\ncase b { B1.temperature = 22 °C }\ncase ab is a, b'),
    ).toEqual([]);
    expect(mistakesWith('case a { B1.temperature = 22 °C }\ncase b is a\ncase c is a\ncase bc is b, c')).toEqual([]);
  });

  it.each([
    ['a misspelt one', 'case winter { B1.temperature = 22 °C }\ncase a is wintr', 'unknown_name at "wintr"'],
    ['one that is nowhere', 'case a is xyz', 'unknown_name at "xyz"'],
    ['itself', 'case a is a', 'cycle at "a"'],
    ['one made from it', 'case a is b\ncase b is a', 'cycle at "a"'],
  ])('but not with %s', (_, lines, expected) => expect(mistakesWith(lines)).toEqual([expected]));
});

describe('what a case can not say', () => {
  it.each([
    ['a misspelt tag', 'B2.temperature = 22 °C', 'unknown_name at "B2"'],
    ['no such tag', 'XYZW.temperature = 22 °C', 'unknown_name at "XYZW"'],
    ['a misspelt fact', 'B1.temperatur = 22 °C', 'unknown_property at "temperatur"'],
    ['a result', 'T1.loading = 50 %', 'wrong_value at "loading"'],
    ['a fact without its tag', 'temperature = 22 °C', 'wrong_value at "temperature"'],
    ['a tag alone', 'B1 = 22 °C', 'wrong_value at "B1"'],
    ['something deeper', 'B1.temperature.cell = 22 °C', 'unknown_property at "temperature.cell"'],
    ['a wrong unit', 'B1.temperature = 22 V', 'wrong_dimension at "22 V"'],
    ['an impossible value', 'B1.state_of_health = -5 %', 'impossible_value at "-5 %"'],
    ['a pick', 'T1.rated_power = pick', 'wrong_value at "pick"'],
    ['a fact twice', 'B1.temperature = 22 °C, B1.temperature = 23 °C', 'duplicate at "B1.temperature = 23 °C"'],
    ['nothing', 'B1.temperature =', 'syntax at "="'],
    ['a value from a result', 'T1.rated_power = T1.required_rating', 'wrong_value at "required_rating"'],
  ])('%s', (_, line, expected) => expect(mistakesWith(`case a { ${line} }`)).toEqual([expected]));

  it('gets what would be right', () => {
    expect(messagesOf('case a { B2.temperature = 22 °C }')[0]).toContain('did you mean `B1`?');
    expect(messagesOf('case a { temperature = 22 °C }')[0]).toContain('`B1.temperature = …`');
  });

  it('is unknown in that case, and known in the base case', () => {
    const plant = withCases('case a { T1.secondary_voltage = 180 A }');
    expect(plant.analysis.values.all('T1.ratio').map(row => [row.point.case, row.value === undefined])).toEqual([
      [undefined, false],
      ['a', true],
    ]);
    expect(worst(plant, 'T1.ratio').value).toBeCloseTo(400 / 360, 9);
  });
});

it('has a name of its own', () => {
  expect(mistakesWith('case a { B1.temperature = 22 °C }\ncase a { B1.temperature = 23 °C }')).toEqual([
    'duplicate at "a"',
  ]);
  expect(mistakesWith('case T1 { B1.temperature = 22 °C }')).toEqual(['duplicate at "T1"']);
});
