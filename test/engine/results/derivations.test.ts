// What a derivation names is what the formula takes, and nothing that merely lay beside it.
import { expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import type { Edit } from '../../kit/plants.ts';

const inputsOf = (name: string, ...edits: readonly Edit[]): readonly string[] =>
  (sound(...edits).analysis.values.worst(name)?.inputs ?? []).map(input => input.key?.name ?? input.name);

it('a transformer’s ratio comes from its voltages and its tap, not from its losses', () => {
  expect(inputsOf('T1.ratio').toSorted()).toEqual(['T1.primary_voltage', 'T1.secondary_voltage', 'T1.tap']);
});

it('the heat that goes to the room names each loss once', () => {
  expect(inputsOf('MountainStation.heat_to_room').toSorted()).toEqual(['F1.loss', 'K1.heat_to_room', 'T1.loss']);
});

it('a cable’s resistance does not come from its reactance', () => {
  const cable = 'cable W1 { length = 20 m, cross_section = 240 mm², conductor = copper, reactance = 0.08 ohm/km }';
  const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
  const inputs = inputsOf('W1.series_resistance', [chain, `${cable}\n${chain.replace('MAIN', 'MAIN -> W1')}`]);
  expect(inputs).toContain('W1.cross_section');
  expect(inputs).not.toContain('W1.reactance');
});
