// Connection symbols in common use, and what they say: IEC 60076-1, from memory.

import { expect, test } from 'vitest';
import { readVectorGroup } from '../../engine/tables/vector-group.ts';
import { referenceTests } from '../kit/reference.ts';

// Symbol: winding of the higher voltage, of the lower one, clock number.
const common = [
  ['Dyn11', 'delta', 'star n', 11],
  ['Dyn5', 'delta', 'star n', 5],
  ['Yd1', 'star', 'delta', 1],
  ['YNd11', 'star n', 'delta', 11],
  ['Yy0', 'star', 'star', 0],
  ['YNyn6', 'star n', 'star n', 6],
  ['Dd0', 'delta', 'delta', 0],
  ['Dzn0', 'delta', 'zigzag n', 0],
  ['Yzn5', 'star', 'zigzag n', 5],
  ['Yzn11', 'star', 'zigzag n', 11],
] as const;

referenceTests(
  'clock number',
  common.map(([symbol, , , clock]) => ({
    name: symbol,
    source: 'IEC 60076-1, connection symbols',
    evidence: 'from memory' as const,
    tolerance: 0,
    actual: () => {
      const group = readVectorGroup(symbol);
      return group.ok ? group.clock : undefined;
    },
    expected: clock,
  })),
);

test.each(common)('connections of %s', (symbol, higher, lower) => {
  const group = readVectorGroup(symbol);
  if (!group.ok) throw new Error(`${symbol} is refused: ${group.problem}`);
  const words = ({ connection, neutral }: typeof group.higher) => `${connection}${neutral ? ' n' : ''}`;
  expect([words(group.higher), words(group.lower)]).toEqual([higher, lower]);
});

// Star against star and delta against delta turn by whole 60°, star against delta by odd multiples of 30°.
test.each(['Dyn0', 'Yd6', 'Yy1', 'Dd11', 'Dz5', 'Yz0'])('%s can’t be wound', symbol => {
  expect(readVectorGroup(symbol)).toMatchObject({ ok: false, problem: 'clock' });
});
