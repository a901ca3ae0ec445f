// Curves taken from the chemistry where none is stated: what they are, that they are flagged, and what they change.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { complaintCodes, findingsOf, theFinding, valueAt, worst } from '../../kit/plants.ts';

const line = / {2}open_circuit_voltage = .*\n/.exec(sound().files.get('plant.plant')!)![0];
const ohms = 'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }';
const of = (chemistry: string) =>
  ['  cells_in_series = 224\n', `  chemistry = ${chemistry}\n  cells_in_series = 224\n`] as const;
const note = (plant: ReturnType<typeof sound>) =>
  findingsOf(plant, 'assumed_by_tool', 'B1')
    .map(({ message }) => message)
    .join();

describe('a voltage at rest that nobody stated', () => {
  it('is the published curve of the chemistry, and no fact is missing', () => {
    const plant = sound([line, ''], of('lfp'));
    // 2.9781 V a cell at 10 % and 3.3142 V at 90 % by the published electrode functions (see the tables).
    expect(worst(plant, 'B1.rest_voltage_min').value / 224).toBeCloseTo(2.9781, 3);
    expect(worst(plant, 'B1.rest_voltage_max').value / 224).toBeCloseTo(3.3142, 3);
    expect(findingsOf(plant, 'missing_fact')).toEqual([]);
  });

  it('is told in the one note on the battery, with its source and what is wrong with it', () => {
    const plant = sound([line, ''], of('lfp'));
    expect(findingsOf(plant, 'assumed_by_tool', 'B1')).toHaveLength(1);
    expect(note(plant)).toContain('Prada2013');
    expect(note(plant)).toContain('Below 20 % it is steeper than most cell data');
    expect(note(sound([line, ''], of('lead_acid')))).toContain('common practice, no source');
  });

  it('shows in the derivation as assumed by the tool', () => {
    const row = sound([line, ''], of('nmc')).analysis.values.worst('B1.rest_voltage')!;
    const input = row.inputs.find(({ name }) => name === 'B1.open_circuit_voltage')!;
    expect(input.provenance).toMatch(/^assumed by the tool: curve of nmc cells/);
  });

  it('gives way to a window, which is told too', () => {
    const plant = sound([line, '  voltage = 600 V .. 760 V\n'], of('lfp'));
    expect(worst(plant, 'B1.rest_voltage_min').value).toBeCloseTo(616, 9);
    expect(note(plant)).toContain('a straight line through the window `voltage`, which is false for flat chemistries');
  });

  it('is asked for where the chemistry is not stated either', () => {
    expect(theFinding(sound([line, '']), 'missing_fact').message).toContain('`open_circuit_voltage`');
  });

  it('is silent where what is written can’t be understood', () => {
    const plant = sound([line, '  open_circuit_voltage = 700 A\n'], of('lfp'));
    expect(complaintCodes(plant)).toEqual(['error wrong_dimension']);
    expect(plant.analysis.values.worst('B1.rest_voltage_min')?.value).toBeUndefined();
  });
});

describe('one resistance for all temperatures', () => {
  const at = (celsius: number) => ['temperature = 20 °C', `temperature = ${celsius} °C`] as const;
  const inner = (plant: ReturnType<typeof sound>) =>
    valueAt(plant, 'B1.inner_resistance', { soc: 0.1, case: undefined });

  it('grows in the cold as is customary for the chemistry, and that is told', () => {
    const plant = sound([ohms, 'resistance = 0.14 Ω'], of('lfp'), at(10));
    expect(inner(plant)).toBeCloseTo((0.14 * 1.4) / 4, 12);
    expect(note(plant)).toContain('`resistance` as stated at 25 °C, and `resistance_growth`');
    expect(findingsOf(plant, 'temperature_ignored')).toEqual([]);
  });

  it('stays as it is at 25 °C, without a chemistry, and where it runs over temperature itself', () => {
    const warm = sound([ohms, 'resistance = 0.14 Ω'], of('lfp'), at(25));
    expect(inner(warm)).toBeCloseTo(0.035, 12);
    expect(note(warm)).not.toContain('resistance_growth');
    expect(inner(sound([ohms, 'resistance = 0.14 Ω'], at(10)))).toBeCloseTo(0.035, 12);
    expect(inner(sound(of('lfp'), at(25)))).toBeCloseTo(0.035, 12);
    expect(inner(sound(of('lfp'), at(15)))).toBeCloseTo(0.19 / 4, 12);
  });

  it('grows as stated where that is stated', () => {
    const stated =
      'resistance = 0.14 Ω\n  resistance_growth = curve temperature { 0 °C 300 %, 20 °C 120 %, 25 °C 100 % }';
    const plant = sound([ohms, stated], of('lfp'));
    expect(inner(plant)).toBeCloseTo((0.14 * 1.2) / 4, 12);
    expect(note(plant)).not.toContain('resistance_growth');
  });

  it('grows along with a case that is cold, on top of one that is worn', () => {
    const plant = sound([ohms, 'resistance = 0.14 Ω'], of('nmc'), at(25), [
      'require T1.loading <= 95 %',
      'case winter { B1.temperature = 10 °C }\ncase worn { B1.resistance = 1.5 * B1.resistance, B1.state_of_health = 80 % }\ncase worn_winter is winter, worn',
    ]);
    const both = valueAt(plant, 'B1.inner_resistance', { soc: 0.1, case: 'worn_winter' });
    expect(both).toBeCloseTo((0.14 * 1.35 * 1.5) / 4, 12);
    expect(valueAt(plant, 'B1.usable_capacity', { case: 'worn_winter' })).toBeCloseTo(0.8 * 4 * 280 * 3600, 6);
    expect(worst(plant, 'B1.voltage_min').point.case).toBe('worn_winter');
  });

  it('says where the customary growth does not reach', () => {
    const plant = sound([ohms, 'resistance = 0.14 Ω'], of('lfp'), at(-25));
    expect(
      findingsOf(plant, 'outside_curve')
        .map(({ message }) => message)
        .join(),
    ).toContain('`resistance_growth` of B1 is assumed by the tool for a temperature from -20 °C to 45 °C');
  });
});
