// Voltage under load: an error where it is not reached, a warning where it is narrow, and from which charge on it is there.
import { describe, expect, it } from 'vitest';
import { voltageReserveCheck as check } from '../../../engine/checks/voltage-reserve.ts';
import { bad, showsItself, sound, without } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { findingsOf, lineAt, textAt, theFinding, valueAt, worst } from '../../kit/plants.ts';

const { code } = check;
const winding = (volts: number) => ['secondary_voltage = 360 V', `secondary_voltage = ${volts} V`] as const;
const apart = ['lowest_connected = 0 %', 'lowest_connected = 10 %'] as const;

showsItself(check, { severity: 'warning' });

describe('the reserve', () => {
  it('is an error below nothing, a warning below the margin, silent above', () => {
    // The winding at which the margin of 3 % is just met, and the one at which nothing is left.
    const margin = worst(sound(), 'T1.winding_max_load').value;
    expect(findingsOf(sound(winding(margin * 0.9995), apart), code)).toEqual([]);
    expect(theFinding(sound(winding(margin * 1.0005), apart), code).severity).toBe('warning');
    const bare = ['transformer_spare = 5 %', 'transformer_spare = 5 %, control_margin_worst = 0 %'] as const;
    const nothing = worst(sound(bare), 'T1.winding_max_load').value;
    expect(theFinding(sound(winding(nothing * 0.9995), apart), code).severity).toBe('warning');
    expect(theFinding(sound(winding(nothing * 1.0005), apart), code).severity).toBe('error');
  });

  it('shows what is needed, what is there, and from which state of charge on it would do', () => {
    const plant = sound(winding(440), apart);
    const { message, place, point, related } = theFinding(plant, code);
    const at = { duty: 'start_peak', voltage: 'high', direction: 'delivering' } as const;
    expect(point).toMatchObject({ ...at, soc: 0.1 });
    expect(message).toContain(worst(plant, 'K1.terminal_voltage').display);
    expect(message).toContain('489.5 V');
    expect(Math.abs(valueAt(plant, 'K1.voltage_available', { ...at, soc: 0.1 }) - 489.5)).toBeLessThan(0.05);
    const from = valueAt(plant, 'B1.full_power_soc', at);
    expect(message).toContain(`from ${(100 * from).toFixed(2)} % state of charge on the power is there`);
    expect(lineAt(plant, place)).toBe('secondary_voltage = 440 V');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual([
      'soc = 10 % .. 90 %',
      'discharge = 400 kW for 45 min',
    ]);
  });

  it('says what is narrow in one sentence, with both numbers', () => {
    const plant = sound(winding(425), apart);
    const [margin, needed] = ['K1.voltage_reserve', 'K1.terminal_voltage'].map(name => worst(plant, name).display);
    expect(theFinding(plant, code).message).toBe(
      `K1 has ${margin} to spare over the ${needed} that it needs during start_peak, at the highest network voltage, at 10 % state of charge, delivering reactive power, less than the 3 % wanted: the battery lets it make 489.5 V.`,
    );
  });

  it('says where not even a full battery would do', () => {
    const found = theFinding(sound(winding(560), apart), code);
    expect(found.message).toMatch(/the battery lets it make 489\.5 V; not even a full battery would do\.$/);
    expect(found.limit).toMatchObject({ number: 0, display: '0 %' });
  });

  it('is that of the link where a chopper holds it, whatever the charge of the battery', () => {
    // 750 V less 1 %, over √2.
    const plant = withChopper(winding(500));
    const { message, related } = theFinding(plant, code);
    expect(message).toMatch(/: the link at the lowest voltage that Q1 holds lets it make 525 V\.$/);
    expect(related.map(({ place }) => textAt(plant, place))).toEqual([
      'link_voltage = 750 V ± 1 %',
      'discharge = 400 kW for 45 min',
    ]);
  });

  it('is not judged without a duty', () => {
    expect(findingsOf(sound(winding(440), apart, ...without('start_peak', 'braking')), code)).toEqual([]);
  });

  it('holds from the state of charge on that it names', () => {
    const plant = sound(winding(440), apart);
    const from = 100 * worst(plant, 'B1.full_power_soc').value;
    const span = (bottom: number) =>
      ['power_factor = 0.95 }', `power_factor = 0.95, soc = ${bottom} % .. 90 % }`] as const;
    expect(theFinding(sound(winding(440), apart, span(from - 0.1)), code).severity).toBe('error');
    expect(theFinding(sound(winding(440), apart, span(from + 0.1)), code).severity).toBe('warning');
  });

  it('says nothing of a fuller battery where the duty charges', () => {
    const plant = sound(winding(460), apart, ['discharge = 400 kW for 45 min, power_factor = 0.95', 'charge = 50 kW']);
    const found = theFinding(plant, code);
    expect(found.message).toMatch(/lets it make \d+(\.\d+)? V\.$/);
    const worse = theFinding(
      sound(winding(480), apart, ['discharge = 400 kW for 45 min, power_factor = 0.95', 'charge = 50 kW']),
      code,
    );
    expect(worse.severity).toBe('error');
    expect(worse.message).toMatch(/lets it make \d+(\.\d+)? V\.$/);
  });

  it('counts only the network voltages at which the duty must hold', () => {
    const within = ['power_factor = 0.95 }', 'power_factor = 0.95, voltage = 400 V ± 2 % }'] as const;
    expect(theFinding(sound(winding(425), apart), code).point?.duty).toBe('start_peak');
    expect(findingsOf(sound(winding(425), apart, within), code)).toEqual([]);
  });

  it('names the case', () => {
    const plant = bad(check, ['require T1.loading <= 95 %', 'case worn { B1.resistance = 1.5 * B1.resistance }']);
    expect(theFinding(plant, code).point?.case).toBe('worn');
    expect(theFinding(plant, code).message).toContain('in case worn');
  });
});
