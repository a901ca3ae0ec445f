// What an analysis says it did not look at: it follows from the facts, and each output repeats it.
import { describe, expect, it } from 'vitest';
import { kinds } from '../../../engine/kinds/index.ts';
import { sound } from '../../kit/checks.ts';
import { analysed, type Edit } from '../../kit/plants.ts';

const open = (plant: ReturnType<typeof analysed>): readonly string[] => plant.analysis.notChecked;

describe('what is not checked', () => {
  it('names the components that it is about', () => {
    const said = open(
      sound(['connect MAIN -> T1', 'cable W1 { length = 9 m, cross_section = 95 mm² }\nconnect MAIN -> W1 -> T1']),
    );
    expect(said).toContain('heating over time of T1, F1 and W1');
    expect(open(sound())).toContain('heating over time of T1 and F1');
  });

  it('has nothing to say of what the plant does not have', () => {
    expect(
      open(analysed('plant Hut {\n}\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }\n')).join(),
    ).not.toMatch(/protection, of|ampacity|heating/);
  });

  it('is empty for a file of parts', () => {
    expect(open(analysed('let peak = 400 kW\n'))).toEqual([]);
  });

  it('says that the plant describes no protection, until it does', () => {
    expect(open(sound()).filter(words => words.startsWith('protection'))).toEqual([
      'protection, of which the plant describes none: fault currents, fuses, breaking capacity, cable withstand, pre-charge, earthing',
    ]);
    const fused = sound(['battery B1 {', 'fuse Q1 { rated_current = 800 A }\nbattery B1 {']);
    expect(open(fused).join()).not.toContain('describes none');
  });

  it('reads behind "not checked": a fragment in one line, no full stop, said once', () => {
    const said = open(sound());
    expect(said.length).toBeGreaterThan(3);
    expect(new Set(said).size).toBe(said.length);
    for (const words of said) expect(words).toMatch(/^\p{L}[^\n]*[^.\s]$/u);
  });
});

describe('word for word', () => {
  const starting = (words: string, plant: ReturnType<typeof analysed>) =>
    open(plant).filter(said => said.startsWith(words));

  it('protection: what is read of it, and what no plant describes', () => {
    const fused = sound(['battery B1 {', 'fuse Q1 { rated_current = 800 A }\nbattery B1 {']);
    expect(starting('protection', fused)).toEqual([
      'protection: fuses are read but not judged, nor are fault currents, breaking capacity, cable withstand, pre-charge and earthing',
    ]);
    const store = 'plant Hut {\n}\nbattery B1 { cells_in_series = 2 }\n';
    expect(starting('protection', analysed(store))).toHaveLength(1);
    expect(open(sound())).toContain('fire, gas and touch protection');
  });

  const facts = (after: string, text: string): Edit => [after, `${after}\n  ${text}`];
  const read: readonly (readonly [property: string, edit: Edit, said: string])[] = [
    ['converter.fault_current', facts('ac_current = 850 A', 'fault_current = 1 kA'), '`fault_current` of K1'],
    ['converter.precharge', facts('ac_current = 850 A', 'precharge = built_in'), '`precharge` of K1'],
    [
      'converter.insulation_monitoring',
      facts('ac_current = 850 A', 'insulation_monitoring = none'),
      '`insulation_monitoring` of K1',
    ],
    [
      'battery.fault_resistance',
      facts('cells_in_series = 224', 'fault_resistance = 90 mΩ'),
      '`fault_resistance` of B1',
    ],
    ['transformer.screen', facts('no_load_loss = 800 W', 'screen = yes'), 'the earthed screen of T1: what passes'],
    [
      'duty.profile',
      ['power_factor = 0.95 }', 'power_factor = 0.95, profile = "winter-day.csv" }'],
      'power over time during start_peak: a `profile` is read but not followed',
    ],
  ];

  it.each(read)('%s, which no result reads', (_, edit, said) => {
    expect(open(sound()).join('\n')).not.toContain(said);
    expect(open(sound(edit)).join('\n')).toContain(said);
  });

  it('protection of which one fact is stated is not said to be missing altogether', () => {
    expect(starting('protection', sound(read[1]![1]))).toEqual([
      'protection: `precharge` of K1 is read but not judged, nor are fault currents, breaking capacity, cable withstand, pre-charge and earthing',
    ]);
  });

  it('every other fact that no result reads belongs to a fuse, or is a price', () => {
    const named = read.map(([property]) => property);
    const silent = kinds.flatMap(kind =>
      kind.notEvaluated === true
        ? []
        : kind.properties.filter(property => property.notEvaluated === true).map(({ name }) => `${kind.name}.${name}`),
    );
    expect(silent.filter(name => !named.includes(name) && !/\.price$|^practice\.fuse_/.test(name))).toEqual([]);
    expect(named.filter(name => !silent.includes(name))).toEqual([]);
  });

  it('a screen that a transformer does not have is nothing to look at; one that a case alone states is', () => {
    expect(open(sound(facts('no_load_loss = 800 W', 'screen = no'))).join()).not.toContain('screen');
    const inCase: Edit = ['require T1.loading <= 95 %', 'case other { T1.screen = yes }'];
    expect(open(sound(inCase)).join()).toContain('screen of T1');
  });

  it('all of protection that the plant states, together', () => {
    const plant = sound(read[1]![1], read[3]![1], ['battery B1 {', 'fuse Q1 { rated_current = 800 A }\nbattery B1 {']);
    expect(starting('protection', plant)).toEqual([
      'protection: fuses, `precharge` of K1 and `fault_resistance` of B1 are read but not judged, nor are fault currents, breaking capacity, cable withstand, pre-charge and earthing',
    ]);
  });

  it('an island: which, and what its converters say of fault current', () => {
    const island = (facts = '') =>
      sound(
        ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming }'],
        ['ac_current = 850 A', `ac_current = 850 A${facts}`],
      );
    const rest = 'whether protection clears with so little; harmonics without a network';
    expect(starting('fault current', island())).toEqual([
      `fault current on the island of start_peak, of which K1 says nothing (\`fault_current\`): ${rest}`,
    ]);
    expect(starting('fault current', island('\n  fault_current = 1 kA'))).toEqual([
      `fault current on the island of start_peak, which is all that its converters feed: ${rest}`,
    ]);
    expect(starting('fault current', sound())).toEqual([]);
  });

  it('what converters lose without power: those of which an efficiency is all that is known', () => {
    const second: Edit = [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
filter F2 { converter_inductance = 100 µH, capacitance = 300 µF }
connect MAIN -> T1 -> F1 -> K1 -> B1
connect T1 -> F2 -> K2 -> B1`,
    ];
    const stating = (facts: string): Edit => ['ac_current = 850 A', `ac_current = 850 A, ${facts}`];
    const rest =
      'while no power passes, and with it the standby loss and the net round trip: an efficiency does not tell it, `no_load_loss` or parts of the loss would';
    const silent = (...edits: readonly Edit[]) => open(sound(...edits)).filter(words => words.endsWith(rest));
    expect(silent()).toEqual([`what K1 loses ${rest}`]);
    expect(silent(second)).toEqual([`what K1 and K2 lose ${rest}`]);
    for (const fact of [
      'no_load_loss = 900 W',
      'fixed_loss = 900 W',
      'linear_loss = 8 V',
      'quadratic_loss = 1 mΩ',
      'switching_loss = 6 V',
    ]) {
      expect(silent(stating(fact)), fact).toEqual([]);
      expect(silent(second, stating(fact)), fact).toEqual([`what K2 loses ${rest}`]);
    }
    const other: Edit = ['require T1.loading <= 95 %', 'case known { K1.no_load_loss = 900 W }'];
    expect(silent(other)).toEqual([`what K1 loses ${rest}`]);
  });

  it('what converters on one net of cables draw over a run, and nothing of one that has its battery to itself', () => {
    const text = sound().files.get('plant.plant')!;
    const battery = text.slice(text.indexOf('battery B1 {'), text.indexOf('connect MAIN'));
    const net: Edit = [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }
filter F2 { converter_inductance = 100 µH, capacitance = 300 µF }
${battery.replace('battery B1', 'battery B2')}
bus D1 {}
bus D2 {}
cable W3 { length = 10 m, cross_section = 240 mm² }
connect MAIN -> T1 -> F1 -> K1 -> D1 -> B1
connect T1 -> F2 -> K2 -> D2 -> B2
connect D1 -> W3 -> D2`,
    ];
    const said =
      'what each of K1 and K2 draws from their net of cables over a whole run: run times and energies have them share by their ratings';
    const sharing = (plant: ReturnType<typeof sound>) => open(plant).filter(words => words.includes('net of cables'));
    expect(sharing(sound(net))).toEqual([said]);
    expect(sharing(sound())).toEqual([]);
  });

  it('facts of an island that no case forms: which, of which duties', () => {
    const stating = (facts: string, more = '') =>
      sound(
        ['power_factor = 0.95 }', `power_factor = 0.95, ${facts} }`],
        ['for 90 s every 15 min', `for 90 s every 15 min${more}`],
      );
    const said = (which: string) => [
      `facts of an island, of duties that form none: ${which} (\`mode = forming\` would have them judged)`,
    ];
    const open = (plant: ReturnType<typeof sound>) =>
      plant.analysis.notChecked.filter(words => words.startsWith('facts of an island'));
    expect(open(stating('load_step = 60 kW'))).toEqual(said('`load_step` of start_peak'));
    expect(open(stating('motor_start = 5 kW, black_start = yes', ', black_start = yes'))).toEqual(
      said('`motor_start` of start_peak and `black_start` of start_peak and braking'),
    );
    expect(open(stating('black_start = no'))).toEqual([]);
    expect(open(stating('mode = forming, load_step = 60 kW, motor_start = 5 kW, black_start = yes'))).toEqual([]);
    const island: Edit = ['require T1.loading <= 95 %', 'case away { start_peak.mode = forming }'];
    expect(open(sound(['power_factor = 0.95 }', 'power_factor = 0.95, load_step = 9 kW }'], island))).toEqual([]);
  });

  it('many of a kind are counted from the seventh on', () => {
    const cables = (count: number) => {
      const tags = Array.from({ length: count }, (_, index) => `W${index + 1}`);
      const blocks = tags.map(tag => `cable ${tag} { length = 2 m, cross_section = 240 mm² }`).join('\n');
      const plant = sound(['connect MAIN -> T1', `${blocks}\nconnect MAIN -> ${tags.join(' -> ')} -> T1`]);
      return starting('ampacity', plant).join();
    };
    expect(cables(6)).toContain('ampacity of W1, W2, W3, W4, W5 and W6: ');
    expect(cables(8)).toContain('ampacity of W1, W2, W3, W4, W5, W6 and 2 more: ');
  });

  it('what a case alone states is stated', () => {
    const cable = [
      'connect MAIN -> T1',
      'cable W1 { length = 2 m, cross_section = 240 mm² }\nconnect MAIN -> W1 -> T1',
    ] as const;
    const lying = [
      'require T1.loading <= 95 %',
      'case usual { B1.state_of_health = 90 % }\ncase laid { W1.installation = E }',
    ] as const;
    expect(starting('ampacity', sound(cable))).toHaveLength(1);
    expect(starting('ampacity', sound(cable, lying))).toEqual([]);
  });
});
