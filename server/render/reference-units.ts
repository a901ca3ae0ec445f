// Reference page of the units: how each is written, what else is read, and its size.
import { describe, dimensions, isMoney } from '../../engine/units/dimension.ts';
import { showNumber } from '../../engine/units/show.ts';
import { currencyCodes, prefixes, type UnitRow, unitRows } from '../../engine/units/table.ts';
import { code, page, table } from './reference-text.ts';

export function unitPage(): string {
  const rows = unitRows.filter(({ dimension }) => !isMoney(dimension)).map(rowOf);
  const prefixRows = prefixes.map(({ symbol, aliases, meaning, times, per }) => {
    return [[symbol, ...aliases].map(code).join(' '), meaning, showNumber(times / per)];
  });
  return page(
    '# Units',
    'Every number carries its unit. Compound units are glued: `W/K`, `Ω/km`, `A²*s`.',
    table(['unit', 'also read', 'meaning', 'measures', 'in SI', 'prefixes'], rows),
    '## Prefixes',
    table(['prefix', 'name', 'factor'], prefixRows),
    '## Money',
    `A currency is written by its ISO 4217 code, such as ${code('120 EUR')}, and is never converted: ${currencyCodes.join(', ')}.`,
  );
}

function rowOf({ symbol, aliases, meaning, dimension, times, per, offset, prefixes: taken }: UnitRow): string[] {
  const si = `${showNumber(times / per, 6)} ${dimension === dimensions.temperature ? 'K' : dimension.unit}`.trimEnd();
  const size = offset === undefined ? si : `${si}, zero at ${offset} K`;
  return [
    code(symbol),
    aliases.map(code).join(' '),
    meaning,
    describe(dimension),
    size,
    [...taken].map(code).join(' '),
  ];
}
