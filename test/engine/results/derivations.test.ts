// What a derivation names is what the formula takes, and nothing that merely lay beside it.
import { expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';

const inputsOf = (name: string): readonly string[] =>
  (sound().analysis.values.worst(name)?.inputs ?? []).map(input => input.key?.name ?? input.name);

it('a transformer’s ratio comes from its voltages and its tap, not from its losses', () => {
  expect(inputsOf('T1.ratio').toSorted()).toEqual(['T1.primary_voltage', 'T1.secondary_voltage', 'T1.tap']);
});

it('the heat that goes to the room names each loss once', () => {
  expect(inputsOf('MountainStation.heat_to_room').toSorted()).toEqual(['F1.loss', 'K1.heat_to_room', 'T1.loss']);
});
