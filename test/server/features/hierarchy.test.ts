// Hierarchy of values: down to the facts, and up to what is computed with them.
import { expect, test } from 'vitest';
import { inputsOf, usersOf, valueItemAt } from '../../../server/features/hierarchy.ts';
import { at } from '../../kit/feature.ts';
import { starterText } from '../../kit/feature-starter.ts';

test('a result in a requirement: its inputs, and who uses it', async () => {
  const { context, offset } = await at(starterText('valley-station.plant', 'loading <= 95 %'));
  const item = valueItemAt(context, offset);
  expect(item).toMatchObject({ name: 'T1.loading', is: 'result' });
  expect(inputsOf(context, 'T1.loading').map(({ name, is }) => [name, is])).toEqual([
    ['T1.required_rating', 'result'],
    ['T1.rated_power', 'fact'],
  ]);
  expect(usersOf(context, 'T1.loading').map(({ name }) => name)).toContain('T1.spare');
});

test('a fact: everything that it goes into, and it leads to its own line', async () => {
  const { context, offset, text } = await at(starterText('valley-station.plant', 'secondary_voltage'));
  const item = valueItemAt(context, offset)!;
  expect(item).toMatchObject({ name: 'T1.secondary_voltage', is: 'fact' });
  expect(text.slice(item.place.start, item.place.end)).toBe('secondary_voltage');
  const users = usersOf(context, item.name).map(({ name }) => name);
  expect(users).toEqual(expect.arrayContaining(['T1.ratio', 'T1.required_rating']));
});

test.each([
  ['in its value', 'secondary_voltage = 3‸60 V', 'T1.secondary_voltage'],
  ['in its unit', 'impedance = 6 ‸% ± 10 %', 'T1.impedance'],
  ['in where it is from', 'voltage = 400 V ± 10 % from "connec‸tion', 'MAIN.voltage'],
  ['on what it is made of', 'discharge = pe‸ak for 45 min', 'start_peak.discharge'],
  ['in a case', 'B1.state_of_health = 8‸0 %', 'B1.state_of_health'],
])('a fact whose line the cursor stands in: %s', async (_, marked, name) => {
  const text = starterText('valley-station.plant');
  expect(text).toContain(marked.replace('‸', ''));
  const { context, offset } = await at(text.replace(marked.replace('‸', ''), marked));
  expect(valueItemAt(context, offset)?.name).toBe(name);
});

test('inputs and users are each other’s mirror', async () => {
  const { context } = await at(starterText('valley-station.plant'));
  for (const { name } of usersOf(context, 'T1.secondary_current')) {
    expect(inputsOf(context, name).map(input => input.name)).toContain('T1.secondary_current');
  }
});

test('no hierarchy where there is no value', async () => {
  const { context } = await at('‸grid MAIN { voltage = 400 V }\n');
  expect(valueItemAt(context, 'grid MAIN'.length)).toBeUndefined();
  expect(valueItemAt(context, 0)).toBeUndefined();
});
