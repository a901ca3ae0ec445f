// Voltage drop in cables, AC and DC.
import { describe, it } from 'vitest';
import { cableDrop as check } from '../../../engine/checks/cable-drop.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

describe('the judgement', () => {
  it('knows a DC cable by where it stands, with a limit of its own', () => {
    const cable = (metres: number) =>
      ['K1 -> B1', `K1 -> W2 -> B1\ncable W2 { length = ${metres} m, cross_section = 185 mm² }`] as const;
    // I·2·l·R′ with R′ = 0.0991 Ω/km (IEC 60228, seen in source) · 1.27505 at 90 °C: 2 % of the battery’s terminal voltage.
    const current = worst(sound(cable(10)), 'W2.current').value;
    const battery = worst(sound(cable(10)), 'B1.voltage_min').value;
    const length = (0.02 * battery) / (2 * 0.0991e-3 * 1.27505 * current);
    expectLimit(code, [cable(length * 0.98)], [cable(length * 1.02)], 'warning');
  });
});
