// The battery inside the converter’s DC voltage: above the span or the trip, below the span, for every converter.
import { describe, expect, it } from 'vitest';
import { dcWindow as check } from '../../../engine/checks/dc-window.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { analysed, findingsOf, lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const span = (low: number, high: number, more = '') =>
  ['dc_voltage = 550 V .. 850 V', `dc_voltage = ${low} V .. ${high} V${more}`] as const;

showsItself(check, { severity: 'error' });

describe('the window', () => {
  const { value: highest } = worst(sound(), 'K1.dc_voltage_max');
  const { value: lowest } = worst(sound(), 'K1.dc_voltage_min');

  it('ends above at the span, and at the trip where one is stated', () => {
    expectLimit(code, [span(550, highest + 0.1)], [span(550, highest - 0.1)], 'error');
    const trip = (volts: number) => [span(550, volts, `\n  dc_trip = ${volts} V`)];
    expectLimit(code, trip(highest + 0.1), trip(highest - 0.1), 'error');
    expect(theFinding(sound(...trip(740)), code).message).toMatch(/above its trip at 740 V/);
    // Beyond trip and span, it is the trip that tells, and once.
    const both = sound(span(550, 735, '\n  dc_trip = 740 V'));
    expect(theFinding(both, code).message).toMatch(/above its trip at 740 V/);
  });

  it('ends below at the span', () => {
    expectLimit(code, [span(lowest - 0.1, 850)], [span(lowest + 0.1, 850)], 'error');
  });

  it('shows both voltages and what makes them', () => {
    const plant = bad(check);
    const { message, place, related, limit } = theFinding(plant, code);
    const { display } = worst(plant, 'K1.dc_voltage_max');
    expect(message).toBe(
      `The battery takes K1’s DC side to ${display}, above its span up to 740 V: it trips, or is damaged.`,
    );
    expect(limit).toMatchObject({ number: 740, display: '740 V' });
    expect(lineAt(plant, place)).toBe('dc_voltage = 550 V .. 740 V');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['soc = 10 % .. 90 %', 'cells_in_series = 224']);
  });

  it('says both where the battery leaves it at both ends', () => {
    const plant = sound(span(720, 740));
    const [above, below] = findingsOf(plant, code);
    expect(above!.message).toContain('above its span up to 740 V');
    expect(above!.related[0]!.message).toBe('The top of this span counts.');
    const { display } = worst(plant, 'K1.dc_voltage_min');
    expect(below!.message).toBe(
      `The battery takes K1’s DC side down to ${display}, below its least operating voltage 720 V: it can’t run there.`,
    );
    expect(below!.limit).toMatchObject({ number: 720, display: '720 V' });
    expect(below!.related.map(({ message }) => message)).toEqual([
      'The bottom of this span counts.',
      'Cells in series make the voltage.',
    ]);
  });

  it('is left by the chopper that holds the link, at its span or at its trip', () => {
    const low = withChopper(span(760, 850));
    expect(theFinding(low, code).message).toContain('Q1 takes K1’s DC side down to 742.5 V');
    const trip = withChopper(span(550, 740, '\n  dc_trip = 740 V'));
    const { message, place, related } = theFinding(trip, code);
    expect(message).toContain('Q1 takes K1’s DC side to 757.5 V, above its trip at 740 V');
    expect(lineAt(trip, place)).toBe('dc_trip = 740 V');
    expect(related.map(({ place }) => textAt(trip, place))).toEqual(['link_voltage = 750 V ± 1 %']);
  });

  it('names the case', () => {
    const plant = sound(span(550, 765), [
      'require T1.loading <= 95 %',
      'case worn { B1.resistance = 2 * B1.resistance }',
    ]);
    expect(theFinding(plant, code).message).toContain('in case worn');
    const low = sound(span(685, 850), [
      'require T1.loading <= 95 %',
      'case worn { B1.resistance = 2 * B1.resistance }',
    ]);
    expect(theFinding(low, code).message).toMatch(/below its least operating voltage 685 V in case worn:/);
  });
});

it('judges each of several converters', () => {
  const plant = analysed(`
plant Two { altitude = 500 m, ambient = 5 °C .. 40 °C }
grid MAIN { voltage = 400 V ± 5 %, frequency = 50 Hz }
bus N1 {}
converter K1 { ac_current = 300 A, dc_voltage = 550 V .. 740 V, switching_frequency = 4 kHz }
converter K2 { ac_current = 300 A, dc_voltage = 550 V .. 740 V, switching_frequency = 4 kHz }
part battery Pack {
  cells_in_series = 230
  capacity = 280 Ah
  open_circuit_voltage = curve soc per cell { 0 % 2.90 V, 100 % 3.40 V }
  resistance = 0.1 Ω
  soc = 10 % .. 90 %
  lowest_connected = 5 %
}
battery B1 is Pack {}
battery B2 is Pack {}
connect MAIN -> N1
connect N1 -> K1 -> B1
connect N1 -> K2 -> B2
`);
  expect(findingsOf(plant, code).map(({ subject }) => subject)).toEqual(['K1', 'K2']);
});
