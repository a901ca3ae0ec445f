// What all findings share: where they say that they hold, where they point, and which numbers they name.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { within, withTwoChoppers } from '../../kit/choppers.ts';
import { analysed, type Edit, edited, findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const duty = (facts: string): Edit => ['power_factor = 0.95 }', `power_factor = 0.95, ${facts} }`];
const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
const rating = (amperes: number): Edit => ['ac_current = 850 A', `ac_current = ${amperes} A`];
const strings: Edit = ['discharge_current = 280 A', 'discharge_current = 130 A'];

/** A second converter with its filter beside the first, on the same winding and the same battery. */
const beside: Edit = [
  'connect MAIN -> T1 -> F1 -> K1 -> B1',
  `filter F2 { converter_inductance = 100 µH, capacitance = 300 µF }
converter K2 { ac_current = 500 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
connect MAIN -> T1 -> F1 -> K1 -> B1
connect T1 -> F2 -> K2 -> B1`,
];

/** How a finding on the loading of a converter ends: where it says that it holds. */
function where(plant: ReturnType<typeof sound>, converter = 'K1'): string {
  return /, [\d.]+ %( .*)\.$/.exec(theFinding(plant, 'converter_loading', converter).message)![1]!;
}

describe('a finding says where it holds', () => {
  it('under which duty, at which network voltage, in which direction of reactive power', () => {
    expect(where(sound(rating(700)))).toBe(
      ' during start_peak, at the lowest network voltage, absorbing reactive power',
    );
    expect(where(sound(rating(700), duty('mode = following')))).toContain(', at the lowest network voltage');
  });

  it('without a direction where the other one does not exist, or is no different', () => {
    expect(where(sound(rating(700), ['power_factor = 0.95', 'power_factor = 1']))).toBe(
      ' during start_peak, at the lowest network voltage',
    );
    // Straight on the network a converter with an efficiency alone loses as much one way as the other.
    const text = sound().files.get('plant.plant')!;
    const gone = ['transformer T1', 'filter F1'].map(
      (head): Edit => [text.slice(text.indexOf(head), text.indexOf('}\n', text.indexOf(head)) + 2), ''],
    );
    const straight: Edit = ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect MAIN -> K1 -> B1'];
    const plant = sound(...gone, straight, cases(''), ['400 V ± 10 %', '360 V ± 10 %'], strings);
    const [finding] = findingsOf(plant, 'battery_current');
    expect(finding!.message).toContain('at 10 % state of charge;');
    expect(finding!.point?.direction).toBe('delivering');
  });

  it('without a network voltage where the duty holds one voltage itself, unless that has a span', () => {
    expect(where(sound(rating(600), duty('mode = forming')))).toBe(' during start_peak, absorbing reactive power');
    expect(where(sound(rating(600), duty('mode = forming, voltage = 380 V .. 420 V')))).toBe(
      ' during start_peak, at the lowest network voltage, absorbing reactive power',
    );
    const away = cases('case away { start_peak.mode = forming\n  K1.ac_current = 600 A }');
    expect(where(sound(away))).toBe(' during start_peak, absorbing reactive power, in case away');
  });

  it('with the unit that is lost, where the duty asks for that and there is one', () => {
    expect(where(sound(beside, rating(500), duty('lost = unit')), 'K2')).toBe(
      ' during start_peak with K1 lost, at the lowest network voltage, absorbing reactive power',
    );
    expect(where(sound(beside, rating(300), ['ac_current = 500 A', 'ac_current = 300 A']), 'K2')).not.toContain('lost');
    const other: Edit = ['for 90 s every 15 min', 'for 90 s every 15 min, lost = unit'];
    const small: Edit = ['ac_current = 500 A', 'ac_current = 300 A'];
    expect(where(sound(beside, rating(300), small, other), 'K1')).toBe(
      ' during start_peak, at the lowest network voltage, absorbing reactive power',
    );
    // The only converter can't be spared: nothing is left.
    expect(findingsOf(sound(rating(700), duty('lost = unit')), 'converter_loading')).toEqual([]);
  });

  it('at which state of charge: of the battery, of the duty, or of the battery behind a chopper', () => {
    const soc = (plant: ReturnType<typeof sound>, code: string) => theFinding(plant, code).point?.soc;
    expect(soc(sound(strings), 'battery_current')).toBe(0.1);
    expect(soc(sound(strings, duty('soc = 30 % .. 80 %')), 'battery_current')).toBe(0.3);
    expect(theFinding(sound(strings), 'battery_current').message).toContain(', at 10 % state of charge,');
    const deeper: Edit = within('battery B2', 'soc = 10 % .. 90 %', 'soc = 20 % .. 90 %');
    const narrow = (tag: string) => within(`chopper ${tag}`, 'current = 750 A', 'current = 300 A');
    const both = withTwoChoppers(narrow('Q1'), deeper, narrow('Q2'));
    const at = (tag: string) => theFinding(both, 'chopper_current', tag).point?.soc;
    expect([at('Q1'), at('Q2')]).toEqual([0.1, 0.2]);
  });

  it('at all of that in fields of its own, and in no field on which it does not depend', () => {
    expect(theFinding(sound(rating(700)), 'converter_loading').point).toEqual({
      case: undefined,
      duty: 'start_peak',
      voltage: 'low',
      soc: undefined,
      direction: 'absorbing',
    });
    const window = sound(cases('case other { K1.dc_voltage = 550 V .. 700 V }'));
    expect(theFinding(window, 'dc_window').point).toEqual({
      case: 'other',
      duty: undefined,
      voltage: undefined,
      soc: undefined,
      direction: undefined,
    });
  });
});

describe('a finding points', () => {
  const halves = (text: string): string => {
    const start = text.indexOf('battery B1 {');
    const end = text.indexOf('\n}\n', start) + 3;
    const block = text.slice(start, end).replace('battery B1 {', 'part battery Half {');
    return `use "half.plant"\n${text.slice(0, start)}battery B1 is Half {}\n${text.slice(end)}#### half.plant\n${block}`;
  };

  it('at the duty that asks for it, be it a discharge or a charge', () => {
    expect(told(sound(rating(700)), 'converter_loading').related).toEqual([
      ['discharge = 400 kW for 45 min', 'This duty asks for it.'],
    ]);
    expect(told(sound(['charge = 250 kW', 'charge = 650 kW']), 'converter_loading').related).toEqual([
      ['charge = 650 kW for 90 s every 15 min', 'This duty asks for it.'],
    ]);
  });

  it('at the fact, at the `is` that brought it, or at the name of what lacks it', () => {
    const plant = sound(['temperature = 20 °C', 'temperature = 3 °C']);
    expect(textAt(plant, theFinding(plant, 'battery_current').place)).toBe('strings = 4');
    const through = analysed(halves(plant.files.get('plant.plant')!));
    const found = theFinding(through, 'battery_current');
    expect([found.place.path, lineAt(through, found.place)]).toEqual(['plant.plant', 'battery B1 is Half {}']);
    expect(textAt(through, found.place)).toBe('is Half');
    const own = edited(plant.files.get('plant.plant')!, ['  strings = 4\n', '']);
    const beside = analysed(halves(own).replace('battery B1 is Half {}', 'battery B1 is Half { strings = 4 }'));
    expect(textAt(beside, theFinding(beside, 'battery_current').place)).toBe('strings = 4');
    const lacking = sound(['  ac_current = 850 A\n', '']);
    expect(textAt(lacking, theFinding(lacking, 'missing_fact').place)).toBe('K1');
  });

  it('and offers to change a value only where that stands', () => {
    const high: Edit = ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'];
    const fixesOf = (plant: ReturnType<typeof sound>) => told(plant, 'uncontrolled_charging').fixes;
    expect(fixesOf(sound(high))).toEqual(['Lower the secondary voltage to 360 V']);
    const text = edited(sound(high).files.get('plant.plant')!);
    const start = text.indexOf('transformer T1 {');
    const end = text.indexOf('\n}\n', start) + 3;
    const part = text.slice(start, end).replace('transformer T1 {', 'part transformer Winding {');
    const through = `use "w.plant"\n${text.slice(0, start)}transformer T1 is Winding {}\n${text.slice(end)}#### w.plant\n${part}`;
    expect(fixesOf(analysed(through)).filter(title => title.startsWith('Lower'))).toEqual([]);
  });
});

describe('a finding names its numbers', () => {
  it('what was found, and the limit, with the rule where it comes from one', () => {
    const plant = sound(rating(700));
    const { value, display } = worst(plant, 'K1.loading');
    expect(theFinding(plant, 'converter_loading')).toMatchObject({
      value: { name: 'K1.loading', number: value, display },
      limit: { name: 'HouseRules.converter_loading', number: 1, display: '100 %' },
    });
  });

  it('and says whether it is a hazard: the check, or this one of its findings', () => {
    const high = sound(['secondary_voltage = 360 V', 'secondary_voltage = 400 V']);
    expect(theFinding(high, 'uncontrolled_charging')).toMatchObject({ severity: 'error', hazard: true });
    const narrow = sound(['transformer_spare = 5 %', 'transformer_spare = 5 %, diode_margin = 5 %']);
    expect(theFinding(narrow, 'uncontrolled_charging')).toMatchObject({ severity: 'warning', hazard: false });
    expect(theFinding(sound(rating(700)), 'converter_loading').hazard).toBe(false);
  });

  it('at the limit nothing is passed, beyond it something is', () => {
    const { value } = worst(sound(), 'F1.capacitor_share');
    const rule = (share: number): Edit => [
      'transformer_spare = 5 %',
      `transformer_spare = 5 %, capacitor_share = ${share}`,
    ];
    expect(findingsOf(sound(rule(value)), 'capacitor_share')).toEqual([]);
    expect(findingsOf(sound(rule(value * (1 - 1e-12))), 'capacitor_share')).toHaveLength(1);
  });

  it('of several as bad, that of the first case', () => {
    const same = cases(
      'case one { HouseRules.transformer_spare = 5 % }\ncase two { HouseRules.transformer_spare = 5 % }',
    );
    expect(theFinding(sound(rating(700), same), 'converter_loading').point?.case).toBeUndefined();
    const both = cases('case one { K1.ac_current = 700 A }\ncase two { K1.ac_current = 700 A }');
    expect(theFinding(sound(both), 'converter_loading').point?.case).toBe('one');
    const slow = cases('case one { B1.capacity = 120 Ah }\ncase two { B1.capacity = 120 Ah }');
    expect(theFinding(sound(slow), 'discharge_time').point?.case).toBe('one');
    const slower = cases('case one { B1.capacity = 120 Ah }\ncase two { B1.capacity = 119 Ah }');
    expect(theFinding(sound(slower), 'discharge_time').point?.case).toBe('two');
  });
});

describe('of what some condition lets count, the worst is told, in whatever order the cases come', () => {
  const caseOf = (code: string, edits: readonly Edit[], ...each: readonly string[]) =>
    theFinding(sound(...edits, cases(each.join('\n'))), code).point?.case;
  const inEitherOrder = (code: string, edits: readonly Edit[], worse: string, bad: string) => [
    caseOf(code, edits, worse, bad),
    caseOf(code, edits, bad, worse),
  ];

  it('the highest of a ripple', () => {
    const [worse, slow] = [2, 2.2].map(kilohertz => `K1.switching_frequency = ${kilohertz} kHz`);
    expect(inEitherOrder('ripple_current', [], `case worse { ${worse} }`, `case bad { ${slow} }`)).toEqual([
      'worse',
      'worse',
    ]);
  });

  it('the lowest of a short-circuit ratio', () => {
    const least: Edit = ['ac_current = 850 A', 'ac_current = 850 A\n  least_short_circuit_ratio = 15'];
    const [worse, weak] = [4, 5].map(power => `MAIN.fault_power = ${power} MVA .. 14 MVA`);
    expect(inEitherOrder('short_circuit_ratio', [least], `case worse { ${worse} }`, `case bad { ${weak} }`)).toEqual([
      'worse',
      'worse',
    ]);
  });

  it('the longest time to be full again', () => {
    const often: Edit = ['for 45 min', 'for 45 min every 2 h'];
    const slower = [0.8, 0.9].map(
      share => `B1.charge_current = curve temperature { 0 °C 0 A, 25 °C ${100 * share} A }`,
    );
    const told = inEitherOrder('recharge_time', [often], `case worse { ${slower[0]} }`, `case bad { ${slower[1]} }`);
    expect(told).toEqual(['worse', 'worse']);
  });
});

describe('an analysis knows which results some check has judged', () => {
  const { judged } = sound(cases(''), duty('mode = forming, load_step = 5 kW')).analysis;

  it('by their worst, past a limit, one by one, or under some duties', () => {
    for (const name of ['K1.loading', 'K1.voltage_reserve', 'F1.capacitor_share', 'K1.load_step_current'])
      expect(judged).toContain(name);
    expect(judged).toContain('B1.voltage_headroom');
    expect(judged).toContain('B1.discharge_time');
  });

  it('and of no other', () => {
    expect(judged).not.toContain('K1.terminal_power');
    expect([...judged].filter(name => !/^\w+\.\w+$/.test(name))).toEqual([]);
  });

  it('and none of a plant that is not checked', () => {
    expect([...analysed('let peak = 400 kW\n').analysis.judged]).toEqual([]);
  });
});
