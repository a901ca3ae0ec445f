// Workspace symbols: names of all files, found by letters in their order.
import { expect, test } from 'vitest';
import { workspaceSymbols } from '../../../server/features/workspace-symbols.ts';
import { at } from '../../kit/feature.ts';

const files = `plant Valley { altitude = 5 m }
grid MAIN { voltage = 400 V }
let peak = 4 kW
--- parts/p.plant
part battery ValleyString { strings = 2 }
catalogue converter List {
  kva_big { ac_current = 4 A }
}
`;

async function found(query: string): Promise<readonly string[]> {
  const { names } = await at(files);
  return workspaceSymbols(names, query).map(({ sort, name, container }) => `${sort} ${name} (${container})`);
}

test('everything that has a name, without a query', async () => {
  expect(await found('')).toEqual([
    'part ValleyString (parts/p.plant)',
    'catalogue List (parts/p.plant)',
    'row kva_big (List in parts/p.plant)',
    'plant Valley (plant.plant)',
    'component MAIN (plant.plant)',
    'let peak (plant.plant)',
  ]);
});

test('letters in their order, large or small', async () => {
  expect(await found('vlstr')).toEqual(['part ValleyString (parts/p.plant)']);
  expect(await found('KB')).toEqual(['row kva_big (List in parts/p.plant)']);
  expect(await found('rtslv')).toEqual([]);
});

test('properties are no symbols', async () => {
  expect(await found('voltage')).toEqual([]);
});
