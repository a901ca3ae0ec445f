// Duties: powers with their times behind them, in both directions, and what goes wrong with the clauses.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesWith } from '../../kit/mistakes.ts';
import { analysed, edited, worst } from '../../kit/plants.ts';

const mistakes = (properties: string) => mistakesWith(`duty extra { ${properties} }`);

describe('the times behind a power', () => {
  it('say the same as their properties', () => {
    const behind = analysed(soundExample);
    const apart = analysed(
      edited(
        soundExample,
        ['for 45 min,', ', duration = 45 min,'],
        ['for 90 s every 15 min', ', duration = 90 s, repeat = 15 min'],
      ),
    );
    for (const name of ['B1.discharge_time', 'B1.recharge_time', 'B1.discharge_end_soc'])
      expect(worst(apart, name).value).toBe(worst(behind, name).value);
  });

  it('are written once', () => {
    expect(mistakes('discharge = 5 kW for 5 min, duration = 6 min')).toEqual(['duplicate at "duration = 6 min"']);
    expect(mistakes('discharge = 5 kW for 5 min for 6 min')).toEqual(['syntax at "for"']);
  });

  it.each([
    ['of another dimension', 'discharge = 5 kW for 5 m', 'wrong_dimension at "5 m"'],
    ['negative', 'discharge = 5 kW for -5 min', 'impossible_value at "-5 min"'],
    ['zero', 'discharge = 5 kW every 0 s', 'impossible_value at "0 s"'],
    ['missing', 'discharge = 5 kW for', 'syntax at "for"'],
    ['behind what takes none', 'discharge = 5 kW, soc = 20 % .. 80 % for 5 min', 'wrong_value at "for 5 min"'],
  ])('%s are one mistake', (_, properties, expected) => expect(mistakes(properties)).toEqual([expected]));
});

describe('a direction of reactive power', () => {
  it('may stand behind the power factor', () => {
    expect(mistakes('discharge = 5 kW, power_factor = 0.9 delivering')).toEqual([]);
    expect(mistakes('charge = 5 kW, power_factor = 0.9 absorbing')).toEqual([]);
  });

  it('may not stand elsewhere', () =>
    expect(mistakes('discharge = 5 kW delivering')).toEqual(['wrong_value at "delivering"']));
});

describe('a duty', () => {
  it('is one direction: both are told', () => {
    expect(mistakes('discharge = 5 kW, charge = 5 kW')).toEqual(['impossible_value at "charge = 5 kW"']);
  });

  it.each(['', 'duration = 5 min', 'power_factor = 0.9'])('needs a power: %s', properties => {
    expect(mistakes(properties)).toEqual(['missing_fact at "extra"']);
  });

  it.each([
    ['discharge = 0 kW', 'impossible_value at "0 kW"'],
    ['discharge = -5 kW', 'impossible_value at "-5 kW"'],
    ['discharge = 5 kVA', 'wrong_dimension at "5 kVA"'],
    ['discharge = 5 kW, power_factor = 0', 'impossible_value at "0"'],
    ['discharge = 5 kW, power_factor = 1.1', 'impossible_value at "1.1"'],
    ['discharge = 5 kW, soc = 80 % .. 20 %', 'reversed_range at "80 % .. 20 %"'],
    ['discharge = 5 kW, mode = followin', 'wrong_value at "followin"'],
    ['discharg = 5 kW', 'unknown_property at "discharg"'],
  ])('%s is one mistake', (properties, expected) => expect(mistakes(properties)).toEqual([expected]));
});
