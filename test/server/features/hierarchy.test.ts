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

test('inputs and users are each other’s mirror', async () => {
  const { context } = await at(starterText('valley-station.plant'));
  for (const { name } of usersOf(context, 'T1.secondary_current')) {
    expect(inputsOf(context, name).map(input => input.name)).toContain('T1.secondary_current');
  }
});

test('no hierarchy where there is no value', async () => {
  const { context } = await at('‸grid MAIN { voltage = 400 V }\n');
  expect(valueItemAt(context, 0)).toBeUndefined();
});
