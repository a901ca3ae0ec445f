// Several choppers on one DC link: halves are like one of twice the size, shares are commanded, and energy closes.
import { describe, expect, it } from 'vitest';
import { chopperExample, twoChoppers, within, withTwoChoppers } from '../../kit/choppers.ts';
import { notesIn } from '../../kit/mistakes.ts';
import { type Analysed, analysed, complaints, type Edit, edited, findingsOf, worst } from '../../kit/plants.ts';

const daily: Edit = ['for 45 min,', 'for 45 min every 6 h,'];
const alone = (...edits: readonly Edit[]): Analysed => analysed(edited(chopperExample, daily, ...edits));
const value = (plant: Analysed, name: string): number => worst(plant, name).value;

describe('two halves behind two choppers', () => {
  const [whole, halves] = [alone(), withTwoChoppers(daily)];

  it('are nothing to complain of, and wholly evaluated', () => {
    expect(complaints(halves).map(({ message }) => message)).toEqual([]);
    expect(notesIn(halves, 'not_evaluated')).toEqual([]);
  });

  it.each([
    'K1.dc_voltage_min',
    'K1.dc_voltage_max',
    'K1.dc_current',
    'K1.dc_power',
    'K1.diode_margin',
    'K1.control_margin',
    'K1.voltage_reserve',
    'T1.winding_max_load',
    'start_peak.total_loss',
    'start_peak.efficiency',
    'MountainStation.heat_to_room',
  ])('are the same to the converter and the network: %s', name =>
    expect(value(halves, name) / value(whole, name)).toBeCloseTo(1, 9),
  );

  it('bring as much back over a whole period, what the converter loses without power included', () => {
    const lossy: Edit = ['ac_current = 850 A', 'ac_current = 850 A\n  fixed_loss = 1.2 kW, linear_loss = 8 V'];
    const net = (plant: Analysed): number => value(plant, 'start_peak.net_round_trip');
    expect(net(withTwoChoppers(daily, lossy)) / net(alone(lossy))).toBeCloseTo(1, 9);
  });

  it.each(['store_voltage_min', 'store_voltage_max', 'duty_ratio_min', 'duty_ratio_max', 'loading'])(
    'are the same to each chopper: %s',
    name => {
      for (const tag of ['Q1', 'Q2'])
        expect(value(halves, `${tag}.${name}`) / value(whole, `Q1.${name}`)).toBeCloseTo(1, 9);
    },
  );

  it.each(['string_current', 'voltage_min', 'voltage_max', 'discharge_time', 'refill_time', 'round_trip_efficiency'])(
    'are the same to each string: %s',
    name => {
      for (const tag of ['B1', 'B2'])
        expect(value(halves, `${tag}.${name}`) / value(whole, `B1.${name}`)).toBeCloseTo(1, 7);
    },
  );

  it('carry half each', () => {
    for (const index of [1, 2]) {
      expect(value(halves, `Q${index}.link_share`)).toBeCloseTo(0.5, 12);
      for (const name of ['Q#.current', 'Q#.high_side_current', 'Q#.loss', 'B#.current', 'B#.loss', 'B#.energy'])
        expect(value(halves, name.replace('#', `${index}`)) / value(whole, name.replace('#', '1')), name).toBeCloseTo(
          0.5,
          9,
        );
      expect(value(halves, `B${index}.power_by_soc`) / value(whole, 'B1.power_by_soc')).toBeCloseTo(0.5, 9);
    }
  });

  it('can do the same', () => {
    const outlines = (plant: Analysed) =>
      plant.analysis.values.capability('K1')!.outlines.flatMap(({ points }) => points);
    for (const [index, point] of outlines(whole).entries())
      expect(outlines(halves)[index]!.active).toBeCloseTo(point.active, 3);
  });
});

const cable = (tag: string, metres: number) =>
  `cable ${tag} { length = ${metres} m, cross_section = 240 mm², parallel = 2, conductor = copper }\n`;

/** Before and behind each chopper a run of its own, and one that both share. */
function wired(...edits: readonly Edit[]): Analysed {
  return withTwoChoppers(
    [
      'bus D1 {}',
      `bus D1 {}\n${cable('W0', 6)}${cable('W1', 10)}${cable('W2', 30)}${cable('W3', 8)}${cable('W4', 16)}`,
    ],
    ['K1 -> D1 -> Q1 -> B1', 'K1 -> W0 -> D1 -> W1 -> Q1 -> W3 -> B1'],
    ['connect D1 -> Q2 -> B2', 'connect D1 -> W2 -> Q2 -> W4 -> B2'],
    ...edits,
  );
}

describe('shares', () => {
  it('follow the energy of the batteries, so that both are empty at the same time', () => {
    const plant = withTwoChoppers(daily, within('battery B2', 'strings = 4', 'strings = 6'));
    expect(value(plant, 'Q1.link_share')).toBeCloseTo(0.4, 9);
    expect(value(plant, 'Q2.link_share')).toBeCloseTo(0.6, 9);
    expect(value(plant, 'B2.discharge_time')).toBeCloseTo(value(plant, 'B1.discharge_time'), 5);
  });

  it('are as stated, and the batteries are then empty one after the other', () => {
    const plant = withTwoChoppers(daily, within('chopper Q1', 'current =', 'share = 40 %\n  current ='));
    expect(value(plant, 'Q1.link_share')).toBeCloseTo(0.4, 12);
    expect(value(plant, 'Q2.link_share')).toBeCloseTo(0.6, 12);
    expect(value(plant, 'Q2.high_side_current') / value(plant, 'Q1.high_side_current')).toBeCloseTo(1.5, 9);
    expect(value(plant, 'B1.discharge_time')).toBeGreaterThan(1.4 * value(plant, 'B2.discharge_time'));
  });

  it('may be written as thirds', () => {
    const plant = withTwoChoppers(
      within('chopper Q1', 'current =', 'share = 33.3 %\n  current ='),
      within('chopper Q2', 'current =', 'share = 66.6 %\n  current ='),
    );
    expect(complaints(plant).map(({ code }) => code)).not.toContain('link_share');
    expect(value(plant, 'Q1.link_share')).toBeCloseTo(1 / 3, 6);
  });

  it('know nothing of the voltages: unlike batteries carry their parts all the same', () => {
    // Sixteen cells fewer would charge the other battery if both stood on one pair of conductors.
    const plant = withTwoChoppers(
      within('battery B2', 'cells_in_series = 112', 'cells_in_series = 96'),
      within('chopper Q1', 'current =', 'share = 50 %\n  current ='),
    );
    expect(findingsOf(plant, 'pack_mismatch')).toEqual([]);
    expect(value(plant, 'Q2.high_side_current')).toBeCloseTo(value(plant, 'Q1.high_side_current'), 9);
    expect(value(plant, 'B2.current') / value(plant, 'B1.current')).toBeGreaterThan(1.15);
  });
});

describe('on a link with cables', () => {
  const plant = wired(within('chopper Q1', 'current =', 'share = 40 %\n  current ='));
  /** Of every metre, both poles, Ω: one number, since all runs are alike. */
  const perMetre = value(plant, 'W0.loss') / value(plant, 'W0.current') ** 2 / 6;
  const at = (name: string) => {
    const row = plant.analysis.values
      .all(name)
      .find(
        ({ point }) =>
          point.duty === 'start_peak' &&
          point.case === undefined &&
          (point.voltage ?? 'low') === 'low' &&
          (point.direction ?? 'delivering') === 'delivering' &&
          (point.soc === undefined || point.soc === 0.1),
      );
    return row!.value!;
  };

  it('the chopper with the longest way holds its voltage, the other stands below by what its way drops less', () => {
    // By hand: 742.5 V at Q2 behind 30 m that carry 60 %, then 6 m that carry all.
    const [power, far, common] = [at('K1.dc_power'), 0.6 * 30 * perMetre, 6 * perMetre];
    const current = (742.5 - Math.sqrt(742.5 ** 2 - 4 * (far + common) * power)) / (2 * (far + common));
    expect(at('K1.dc_current')).toBeCloseTo(current, 6);
    expect(at('K1.dc_voltage')).toBeCloseTo(742.5 - (far + common) * current, 6);
    const node = 742.5 - far * current;
    const near = node + 0.4 * current * 10 * perMetre;
    expect(near).toBeLessThan(742.4);
    expect(at('Q1.high_side_current') * near).toBeCloseTo(0.4 * current * near, 3);
    // What reaches the link of each chopper is 98 % of what its battery gives at its terminals.
    expect(at('B1.current') * at('Q1.store_voltage') * 0.98).toBeCloseTo(0.4 * current * near, 3);
    expect(at('B2.current') * at('Q2.store_voltage') * 0.98).toBeCloseTo(0.6 * current * 742.5, 3);
  });

  it('each run carries what its place asks', () => {
    expect(at('W0.current')).toBeCloseTo(at('K1.dc_current'), 9);
    expect(at('W1.current')).toBeCloseTo(at('Q1.high_side_current'), 9);
    expect(at('W2.current')).toBeCloseTo(at('Q2.high_side_current'), 9);
    expect(at('W1.current') + at('W2.current')).toBeCloseTo(at('W0.current'), 9);
    expect(at('W3.current')).toBeCloseTo(at('B1.current'), 9);
    expect(at('W4.current')).toBeCloseTo(at('B2.current'), 9);
    expect(at('W4.drop')).toBeCloseTo(1 - at('Q2.store_voltage') / at('B2.voltage_min'), 9);
  });

  it.each([
    ['start_peak', 1],
    ['braking', -1],
  ])('energy closes at every point of %s', (duty, way) => {
    const rows = plant.analysis.values
      .all('B1.current')
      .filter(({ point, value }) => point.duty === duty && value !== undefined);
    expect(rows.length).toBeGreaterThan(5);
    for (const { point } of rows) {
      const keys = ['case', 'duty', 'voltage', 'direction', 'soc'] as const;
      const of = (name: string): number =>
        plant.analysis.values
          .all(name)
          .find(row =>
            keys.every(key => (key !== 'case' && row.point[key] === undefined) || row.point[key] === point[key]),
          )!.value!;
      const given = ['B1', 'B2'].reduce((sum, tag) => sum + way * of(`${tag}.current`) * of(`${tag}.voltage_min`), 0);
      const lost = ['W0', 'W1', 'W2', 'W3', 'W4', 'Q1', 'Q2'].reduce((sum, tag) => sum + of(`${tag}.loss`), 0);
      expect(given - lost - of('K1.dc_power')).toBeCloseTo(0, 3);
    }
  });
});

describe('further arrangements', () => {
  it('several converters may share the link', () => {
    const twin: readonly Edit[] = [
      ['capacitance = 300 µF', 'capacitance = 150 µF'],
      ['  switching_frequency = 4 kHz\n', '  switching_frequency = 4 kHz\n  carriers = synchronised\n'],
      [
        'bus D1 {}\n',
        `bus D1 {}\nbus N1 {}\nfilter F2 { converter_inductance = 100 µH, capacitance = 150 µF, damping_resistance = 60 mΩ }
converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz, carriers = synchronised }
connect N1 -> F2 -> K2 -> D1\n`,
      ],
      ['T1 -> F1 -> K1', 'T1 -> N1 -> F1 -> K1'],
    ];
    const [one, two] = [withTwoChoppers(), withTwoChoppers(...twin)];
    expect(complaints(two).map(({ message }) => message)).toEqual([]);
    for (const name of ['Q1.high_side_current', 'B2.string_current', 'Q2.loss', 'B1.discharge_time'])
      expect(value(two, name) / value(one, name), name).toBeCloseTo(1, 2);
    expect(value(two, 'K1.dc_current') + value(two, 'K2.dc_current')).toBeCloseTo(
      value(two, 'Q1.high_side_current') + value(two, 'Q2.high_side_current'),
      6,
    );
  });

  it('several batteries may stand behind one of them', () => {
    const half = twoChoppers.slice(twoChoppers.indexOf('battery B2 {'), twoChoppers.indexOf('bus D1'));
    const plant = withTwoChoppers(
      within('battery B2', 'strings = 4', 'strings = 2'),
      ['bus D1 {}', `${half.replace('B2', 'B3').replace('strings = 4', 'strings = 2')}bus D1 {}\nbus D2 {}`],
      ['connect D1 -> Q2 -> B2', 'connect D1 -> Q2 -> D2 -> B2\nconnect D2 -> B3'],
    );
    const whole = withTwoChoppers();
    expect(complaints(plant).map(({ message }) => message)).toEqual([]);
    for (const name of ['Q2.current', 'Q1.current', 'B2.string_current', 'B3.string_current'])
      expect(value(plant, name) / value(whole, name.replace('B3', 'B2')), name).toBeCloseTo(1, 9);
    expect(value(plant, 'D2.voltage_low')).toBeCloseTo(value(plant, 'B2.voltage_min'), 9);
    expect(value(plant, 'D1.voltage_low')).toBeCloseTo(value(plant, 'K1.dc_voltage_min'), 9);
  });

  it('a duty may be asked at one of the batteries', () => {
    const plant = withTwoChoppers(
      ['discharge = 400 kW', 'discharge = 160 kW, at = B1'],
      within('chopper Q1', 'current =', 'share = 40 %\n  current ='),
    );
    expect(value(plant, 'K1.dc_power')).toBeCloseTo(0.98 * 400e3, 3);
  });

  it('one of them without a chopper is noted, and one is judged alone', () => {
    const plant = withTwoChoppers(['connect D1 -> Q2 -> B2', 'connect D1 -> B2']);
    expect(notesIn(plant, 'not_evaluated')).toContain('not_evaluated at "B1"');
    const { message } = findingsOf(plant, 'not_evaluated')[0]!;
    expect(message).toContain('A DC link with choppers before some of its batteries only');
    expect(message).toContain('K1 is judged with B2 alone');
  });

  it('so are two choppers in line', () => {
    const plant = withTwoChoppers(['K1 -> D1 -> Q1 -> B1', 'K1 -> Q1 -> Q2 -> B1'], ['connect D1 -> Q2 -> B2', '']);
    expect(findingsOf(plant, 'not_evaluated')[0]?.message).toContain('K1 is judged with Q1 alone');
  });
});
