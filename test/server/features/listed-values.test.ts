// The values to choose one from: what belongs to the cursor's place stands first.
import { expect, test } from 'vitest';
import { listedValues } from '../../../server/features/listed-values.ts';
import { at } from '../../kit/feature.ts';
import { starterText } from '../../kit/feature-starter.ts';

const plant = `plant P { altitude = 5 m }
grid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }
cable W1 { length = 35 m, cross_section = 240 mm², conductor = copper }
`;

async function listed(marked: string, cursor = true) {
  const { context, offset } = await at(marked);
  return listedValues(context, cursor ? offset : undefined);
}

test('in the order of the plant where no cursor is told', async () => {
  const names = (await listed(`${plant}‸`, false)).map(({ name }) => name);
  expect(names.indexOf('MAIN.voltage_low')).toBeGreaterThan(-1);
  expect(names.indexOf('MAIN.voltage_low')).toBeLessThan(names.findIndex(name => name.startsWith('W1.')));
});

test.each([
  ['in the block of a component', plant.replace('cross_section', 'cross‸_section')],
  ['on its tag in a chain', `${plant}connect MAIN -> W‸1\n`],
])('its values first, each with what it means: %s', async (_, marked) => {
  const all = await listed(marked);
  const own = all.filter(({ name }) => name.startsWith('W1.'));
  expect(own.length).toBeGreaterThan(0);
  expect(all.slice(0, own.length)).toEqual(own);
  expect(all.filter(({ meaning }) => !/\.$/.test(meaning))).toEqual([]);
  expect(new Set(all.map(({ name }) => name))).toEqual(new Set((await listed(marked, false)).map(({ name }) => name)));
});

test('of a component its main values first, what is not known last', async () => {
  const text = starterText('valley-station.plant', undefined, ['impedance = 6 %', 'impe‸dance = 6 %']);
  const own = (await listed(text)).filter(({ name }) => name.startsWith('T1.'));
  const main = ['T1.loading', 'T1.spare', 'T1.winding_max', 'T1.winding_min'];
  expect(
    own
      .slice(0, 4)
      .map(({ name }) => name)
      .toSorted(),
  ).toEqual(main);
  const cable = (await listed(plant.replace('length', 'len‸gth'))).filter(({ name }) => name.startsWith('W1.'));
  const known = cable.map(({ display }) => display !== 'unknown');
  expect(known).toContain(false);
  expect(known).toEqual(known.toSorted((a, b) => Number(b) - Number(a)));
});

test('what a finding at the cursor judges before all else', async () => {
  const draft = starterText('first-draft.plant', undefined, ['rated_power = 400 kVA', 'rated_power = 40‸0 kVA']);
  expect((await listed(draft))[0]?.name).toBe('T1.derated_loading');
});
