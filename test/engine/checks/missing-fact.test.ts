// Facts that are missing: asked for once a component, with a place to write them; the network’s tolerance by itself.
import { describe, expect, it } from 'vitest';
import { missingFact as check } from '../../../engine/checks/missing-fact.ts';
import { bad, expectFixesToHold, showsItself, sound } from '../../kit/checks.ts';
import { analysed, complaintCodes, edited, fixed, lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'missing_fact')).toEqual({
    message:
      '`voltage` of MAIN states no tolerance: ± 10 % is assumed (EN 50160, public low-voltage network). How far it wanders decides whether diodes conduct and full power is reached: ask the network’s owner, and write it like `voltage = 400 V ± 10 %`.',
    at: 'voltage = 400 V',
    related: [],
    limit: undefined,
    fixes: ['State the tolerance ± 10 %'],
  });
});

describe('the tolerance of the network', () => {
  it('is named with the value that is assumed and who says so', () => {
    const plant = bad(check);
    const { message, place } = theFinding(plant, code);
    expect(message).toContain('± 10 % is assumed (EN 50160');
    expect(message).toContain('`voltage = 400 V ± 10 %`');
    expect(lineAt(plant, place)).toBe('voltage = 400 V');
  });

  it('is written before the source by the fix', () => {
    const plant = bad(check, ['voltage = 400 V\n', 'voltage = 400 V from "letter"\n']);
    const [fix] = theFinding(plant, code).fixes;
    expect([...fixed(plant.files, fix!).values()][0]).toContain('voltage = 400 V ± 10 % from "letter"\n');
    expect(expectFixesToHold(plant, code)).toBe(1);
  });
});

describe('what results need', () => {
  it('is asked for once a component, and alone', () => {
    const plant = sound(['  ac_current = 850 A\n', ''], ['  switching_frequency = 4 kHz\n', '']);
    expect(complaintCodes(plant)).toEqual([`error ${code}`]);
    const { message, place, subject } = theFinding(plant, code);
    expect(message).toContain('`ac_current`, `switching_frequency`');
    expect(subject).toBe('K1');
    expect(lineAt(plant, place)).toBe('converter K1 {');
  });

  it.each([
    ['grid', '  frequency = 50 Hz ± 1 %\n'],
    ['transformer', '  impedance = 6 % ± 10 %\n'],
    ['transformer', '  rated_power = 500 kVA\n'],
    ['transformer', '  secondary_voltage = 360 V\n'],
    ['filter', '  converter_inductance = 100 µH\n'],
    ['filter', '  capacitance = 300 µF\n'],
    ['converter', '  ac_current = 850 A\n'],
    ['converter', '  dc_voltage = 550 V .. 850 V\n'],
    ['battery', '  cells_in_series = 224\n'],
    ['battery', '  capacity = 280 Ah\n'],
    ['battery', '  soc = 10 % .. 90 %\n'],
  ])('of a %s: without `%s` one finding, and a fix that mends it', (kind, line) => {
    const plant = sound([line, '']);
    expect(complaintCodes(plant)).toEqual([`error ${code}`]);
    expect(theFinding(plant, code).message).toContain(`of a ${kind}: \`${line.trim().split(' ')[0]}\``);
    expect(expectFixesToHold(plant, code)).toBe(1);
  });

  it('may be one of two', () => {
    const line = / {2}open_circuit_voltage = .*\n/.exec(sound().files.get('plant.plant')!)![0];
    const plant = sound([line, '']);
    expect(theFinding(plant, code).message).toBe('B1 needs one of `open_circuit_voltage`, `voltage`.');
    expect(expectFixesToHold(plant, code)).toBe(1);
    expect(complaintCodes(sound([line, '  voltage = 700 V .. 760 V\n']))).toEqual([]);
  });

  it('is not asked for again where what is written can’t be understood', () => {
    const plant = sound(['ac_current = 850 A', 'ac_current = 850 V']);
    expect(complaintCodes(plant)).toEqual(['error wrong_dimension']);
  });

  it('is added with a block where a component has none', () => {
    const text = edited(
      'plant P {}\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }\nconverter K1\nbattery B1 { cells_in_series = 224, capacity = 280 Ah, voltage = 620 V .. 760 V, resistance = 0.1 Ω, soc = 10 % .. 90 % }\nconnect MAIN -> K1 -> B1\nduty little { discharge = 10 kW }\n',
    );
    const plant = analysed(text);
    const [fix] = theFinding(plant, code).fixes;
    const after = analysed(fixed(plant.files, fix!));
    expect([...after.files.values()][0]).toContain('converter K1 {\n  ac_current = 850 A');
    expect(complaintCodes(after).filter(one => one.endsWith(code))).toEqual([]);
  });
});
