// Heat against what the room gets rid of.
import { describe, expect, it } from 'vitest';
import { heatToRoomCheck as check } from '../../../engine/checks/heat-to-room.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'heat_to_room')).toEqual({
    message:
      'Converters, filters and transformers give 14.14 kW to their room, more than the 10 kW that its ventilation carries away during start_peak: the room grows warmer than the ambient that everything else was judged at.',
    at: 'heat_removal = 10 kW',
    related: [],
    limit: '10 kW',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('is the loss of converter, filter and transformer', () => {
    const heat = worst(sound(), 'MountainStation.heat_to_room').value;
    expect(heat).toBeCloseTo(
      ['K1.loss', 'F1.loss', 'T1.loss'].reduce((sum, name) => sum + worst(sound(), name).value, 0),
      3,
    );
    const removal = (watts: number) => ['altitude = 900 m', `altitude = 900 m\n  heat_removal = ${watts} W`] as const;
    expectLimit(code, [removal(heat + 1)], [removal(heat - 1)], 'warning');
  });

  it('is silent where no loss is known: unknown heat is not 0 W', () => {
    const little = ['altitude = 900 m', 'altitude = 900 m\n  heat_removal = 1 W'] as const;
    expect(findingsOf(sound(little), code)).toHaveLength(1);
    const apart = sound(little, ['MAIN -> T1 -> F1', 'MAIN => F1']);
    expect(apart.analysis.values.worst('MountainStation.heat_to_room')?.value).toBeUndefined();
    expect(findingsOf(apart, code)).toEqual([]);
  });
});
