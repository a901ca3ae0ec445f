// Power that no current delivers, and battery voltage beyond its limits, charging and discharging.
import { describe, expect, it } from 'vitest';
import { powerShortfall as check } from '../../../engine/checks/power-shortfall.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;
const stiff = 'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }';
const limits = (least: number, greatest: number) =>
  ['voltage_limits = 2.80 V .. 3.60 V per cell', `voltage_limits = ${least} V .. ${greatest} V per string`] as const;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'power_shortfall')).toEqual({
    message:
      'No current delivers what start_peak asks of B1: at the end of its span it gives at most 129.9 kW, where half of its voltage drops over its own resistance.',
    at: 'discharge = 400 kW for 45 min',
    related: [['resistance = curve temperature { 0 °C 4 Ω, 45 °C 3.9 Ω }', 'The battery’s resistance.']],
    limit: '129.9 kW',
    fixes: [],
  });
});

describe('the largest power', () => {
  it('is a quarter of the voltage squared over the resistance', () => {
    // 3.9 Ω and 4 Ω between 0 °C and 45 °C, at 20 °C: 3.9556 Ω a string, four in parallel; 716.8 V at rest at 10 %.
    const resistance = (4 - (0.1 * 20) / 45) / 4;
    const largest = 716.8 ** 2 / (4 * resistance);
    const { limit, message, place } = theFinding(bad(check), code);
    expect(limit!.number / largest).toBeCloseTo(1, 6);
    expect(message).toContain(limit!.display);
    expect(lineAt(bad(check), place)).toContain('discharge = 400 kW');
  });

  it('of the network’s way is said too', () => {
    const plant = sound(
      ['discharge = 400 kW for 45 min, power_factor = 0.95', 'discharge = 4 MW, at = K1'],
      ['require T1.loading <= 95 %\n', ''],
    );
    expect(theFinding(plant, code).message).toMatch(/way between the network and K1 can’t carry .* at most [\d.]+ MW/);
  });

  it('names the case', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case frozen { B1.resistance = 20 * B1.resistance }']);
    const found = findingsOf(plant, code).filter(({ message }) => message.startsWith('No current'));
    expect(found.map(({ point }) => point?.case)).toEqual(['frozen']);
    expect(found[0]!.message).toContain('in case frozen');
  });

  it('is enough on the sound plant, by far', () => {
    expect(findingsOf(sound([stiff, 'resistance = curve temperature { 0 °C 0.5 Ω, 45 °C 0.5 Ω }']), code)).toEqual([]);
  });
});

describe('the battery’s voltage under load', () => {
  const { value: highest } = worst(sound(), 'B1.voltage_max');
  const { value: lowest } = worst(sound(), 'B1.voltage_min');

  it('must stay below its limit up to the top of a charge', () => {
    expectLimit(code, [limits(600, highest + 0.1)], [limits(600, highest - 0.1)], 'error');
    const plant = sound(limits(600, 755));
    const { message, place, related } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'B1.voltage_max').display);
    expect(message).toContain('755 V');
    expect(lineAt(plant, place)).toContain('charge = 250 kW');
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual(['voltage_limits', 'soc']);
  });

  it('must stay above its limit down to the bottom of a discharge', () => {
    expectLimit(code, [limits(lowest - 0.1, 800)], [limits(lowest + 0.1, 800)], 'error');
    const plant = sound(limits(700, 800));
    const { message, place } = theFinding(plant, code);
    expect(message).toContain(worst(plant, 'B1.voltage_min').display);
    expect(message).toContain('700 V');
    expect(lineAt(plant, place)).toContain('discharge = 400 kW');
  });
});
