// Where the power goes: the parts of the loss add up to what is missing, and switching follows voltage and frequency.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, worst } from '../../kit/plants.ts';

const converter = (...lines: readonly string[]): Edit => [
  'ac_current = 850 A',
  ['ac_current = 850 A', ...lines].join('\n  '),
];
const cables = [
  ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect MAIN -> W1 -> T1 -> F1 -> K1 -> W2 -> B1'],
  ['require T1.loading', 'cable W1 { length = 35 m, cross_section = 240 mm², parallel = 4 }\nrequire T1.loading'],
  ['require T1.loading', 'cable W2 { length = 12 m, cross_section = 185 mm², parallel = 2 }\nrequire T1.loading'],
] as const;

describe('a filter without any resistance', () => {
  it('loses nothing, not even what a difference of powers leaves by rounding', () => {
    const bare = sound(['  damping_resistance = 60 mΩ\n', '  damping = active\n']);
    const losses = bare.analysis.values.all('F1.loss').filter(({ value }) => value !== undefined);
    expect(losses.length).toBeGreaterThan(4);
    for (const { value } of losses) expect(value).toBe(0);
    expect(worst(sound(), 'F1.loss').value).toBeGreaterThan(10);
  });
});

describe('the loss of all', () => {
  it('is what does not arrive, at every point of every duty', () => {
    const { values } = sound(
      ...cables,
      converter('fixed_loss = 1.2 kW', 'linear_loss = 5 V', 'switching_loss = 4 V'),
    ).analysis;
    for (const duty of ['start_peak', 'braking']) {
      const rows = values.all(`${duty}.total_loss`);
      let judged = 0;
      for (const { value, point } of rows) {
        if (value === undefined) continue;
        const same = (name: string) =>
          values
            .all(name)
            .find(row =>
              (Object.keys(row.point) as (keyof typeof point)[]).every(
                axis => row.point[axis] === undefined || row.point[axis] === (axis === 'duty' ? duty : point[axis]),
              ),
            )?.value ?? Number.NaN;
        const network = same(`${duty}.network_power`);
        const efficiency = same(`${duty}.efficiency`);
        const inner = network > 0 ? network / efficiency : network * efficiency;
        expect(value / (inner - network)).toBeCloseTo(1, 9);
        judged++;
      }
      expect(judged, duty).toBeGreaterThan(0);
    }
  });

  it('is made of all parts', () => {
    const plant = sound(...cables);
    for (const name of ['W1.loss', 'T1.loss', 'F1.loss', 'K1.loss', 'W2.loss', 'B1.loss'])
      expect(worst(plant, name).value, name).toBeGreaterThan(0);
  });
});

describe('the switching part', () => {
  const parts = [
    'fixed_loss = 1 kW',
    'linear_loss = 5 V',
    'quadratic_loss = 2 mΩ',
    'switching_loss = 6 V',
    'loss_voltage = 700 V',
  ];

  it('follows current, DC voltage and frequency, by hand', () => {
    const plant = sound(converter(...parts, 'rated_frequency = 2 kHz'), [
      'switching_frequency = 4 kHz',
      'switching_frequency = 3 kHz',
    ]);
    const current = worst(plant, 'K1.current').value;
    const rest = 3.34 * 224;
    expect(worst(plant, 'K1.loss_switching').value).toBeCloseTo(6 * current * (rest / 700) * 1.5, 3);
    expect(worst(plant, 'K1.loss_conducting').value).toBeCloseTo(5 * current + 0.002 * current ** 2, 3);
    expect(worst(plant, 'K1.loss').value).toBeCloseTo(
      1000 + worst(plant, 'K1.loss_conducting').value + worst(plant, 'K1.loss_switching').value,
      3,
    );
  });

  it('is unknown where only an efficiency is stated', () => {
    expect(sound().analysis.values.worst('K1.loss_switching')?.value).toBeUndefined();
  });

  it('and the ripple say what another frequency would do', () => {
    const plant = sound(converter(...parts));
    const least = worst(plant, 'F1.least_switching_frequency').value;
    const allowed = 0.3 * Math.SQRT2 * 850;
    expect(least).toBeCloseTo((4000 * worst(plant, 'F1.ripple_current').value) / allowed, 6);
    const there = sound(converter(...parts, 'rated_frequency = 4 kHz'), [
      'switching_frequency = 4 kHz',
      `switching_frequency = ${least} Hz`,
    ]);
    // The DC voltage while charging moves a little with the loss, and the ripple with it.
    expect(worst(there, 'F1.ripple_current').value / allowed).toBeCloseTo(1, 4);
    expect(worst(plant, 'K1.loss_at_least_frequency').value / worst(there, 'K1.loss').value).toBeCloseTo(1, 6);
  });
});

describe('the rated current', () => {
  const rated = (...edits: readonly Edit[]) => worst(sound(...edits), 'K1.rated_current').value;
  const faster = ['switching_frequency = 4 kHz', 'switching_frequency = 6 kHz'] as const;

  it('is less above the frequency at which it is stated: half of the loss switches', () => {
    expect(rated(converter('rated_frequency = 4 kHz'), faster)).toBeCloseTo(850 / 1.25, 9);
    expect(rated(converter('rated_frequency = 4 kHz'))).toBe(850);
    expect(rated(faster)).toBe(850);
    expect(rated(converter('rated_frequency = 8 kHz'), faster)).toBe(850);
  });

  it('follows the maker’s curve where there is one', () => {
    const curve = 'switching_derating = curve frequency { 2 kHz 100 %, 4 kHz 100 %, 8 kHz 70 % }';
    expect(rated(converter(curve), faster)).toBeCloseTo(850 * 0.85, 9);
  });
});

describe('the heat to the room', () => {
  const heat = (...lines: readonly string[]) => worst(sound(converter(...lines)), 'K1.heat_to_room').value;
  const loss = worst(sound(), 'K1.loss').value;

  it('is all of the loss with air, and a share of it with liquid cooling', () => {
    expect(heat()).toBeCloseTo(loss, 6);
    expect(heat('cooling = air')).toBeCloseTo(loss, 6);
    expect(heat('cooling = liquid')).toBeCloseTo(0.1 * loss, 6);
    expect(heat('cooling = liquid', 'room_heat = 5 %')).toBeCloseTo(0.05 * loss, 6);
    const whole = (...lines: readonly string[]) =>
      worst(sound(converter(...lines)), 'MountainStation.heat_to_room').value;
    expect(whole() - whole('cooling = liquid')).toBeCloseTo(0.9 * loss, 6);
  });

  it('says which share it assumes', () => {
    const note = (...lines: readonly string[]) =>
      findingsOf(sound(converter(...lines)), 'assumed_by_tool', 'K1')[0]?.message;
    expect(note('cooling = liquid')).toContain('`room_heat`: all of it with air, 10 % with liquid cooling');
    expect(note('cooling = liquid', 'room_heat = 5 %')).not.toContain('room_heat');
    expect(note()).not.toContain('room_heat');
  });
});
