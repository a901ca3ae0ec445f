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
  return workspaceSymbols(names, query).map(({ sort, name, container }) =>
    [sort, name, container && `of ${container}`].filter(Boolean).join(' '),
  );
}

test('everything that has a name, without a query', async () => {
  expect(await found('')).toEqual([
    'part ValleyString',
    'catalogue List',
    'row kva_big of List',
    'plant Valley',
    'component MAIN',
    'let peak',
  ]);
});

test('letters in their order, large or small', async () => {
  expect(await found('vlstr')).toEqual(['part ValleyString']);
  expect(await found('KB')).toEqual(['row kva_big of List']);
  expect(await found('rtslv')).toEqual([]);
});

test('properties are no symbols', async () => {
  expect(await found('voltage')).toEqual([]);
});
