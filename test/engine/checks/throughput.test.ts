// Years until the warranty’s energy is used up.
import { describe, it } from 'vitest';
import { throughput as check } from '../../../engine/checks/throughput.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

describe('the judgement', () => {
  it('counts ten years', () => {
    const often = ['for 45 min', 'for 45 min every 12 h'] as const;
    const yearly = worst(sound(often), 'B1.yearly_throughput').value;
    const warranty = (joule: number) =>
      ['temperature = 20 °C', `temperature = 20 °C\n  throughput_warranty = ${joule / 3.6e12} GWh`] as const;
    expectLimit(code, [often, warranty(yearly * 10.01)], [often, warranty(yearly * 9.99)], 'warning');
  });
});
