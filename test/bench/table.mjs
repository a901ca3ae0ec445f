// Prints rows as one table: our figure, what it is held against, target beside figure, and all figures of the others.

/** A target holds when our figure is at most so much, or at most so many times that of somebody. */
export function judge(row) {
  const reached = targets => targets !== undefined && targets.length > 0 && targets.every(target => holds(row, target));
  if (row.missing !== undefined) return 'missing';
  if ((row.match ?? []).length + (row.beyond ?? []).length === 0) return '';
  if (reached(row.beyond)) return 'beyond';
  return (row.match ?? []).length === 0 ? 'short of beyond' : reached(row.match) ? 'match' : 'short';
}

export function ratioOf(row, target) {
  const other = target.of === undefined ? 1 : (row.figures[target.of] ?? row.more?.[target.of]);
  return row.figures.ours / other;
}

function holds(row, target) {
  return ratioOf(row, target) <= target.most;
}

export function printTable(rows) {
  const heads = ['what is measured', 'ours', 'target: match', 'target: beyond', 'reached', 'the others'];
  const cells = rows.map(row => [
    row.what,
    row.missing ?? `${number(row.figures.ours)} ${row.unit}`,
    targets(row, row.match),
    targets(row, row.beyond),
    judge(row),
    others(row),
  ]);
  const widths = heads.map((head, column) => Math.max(head.length, ...cells.map(row => row[column].length)));
  const line = row =>
    row
      .map((cell, column) => cell.padEnd(widths[column]))
      .join('  ')
      .trimEnd();
  return [line(heads), line(widths.map(width => '─'.repeat(width))), ...cells.map(line)].join('\n');
}

function targets(row, list = []) {
  return list
    .map(target => {
      if (target.of === undefined) return `≤ ${number(target.most)} ${row.unit}`;
      return `${number(ratioOf(row, target))} × ${target.of} (≤ ${number(target.most)})`;
    })
    .join(', ');
}

function others({ figures = {}, more = {} }) {
  return Object.entries({ ...figures, ...more })
    .filter(([name, value]) => name !== 'ours' && value !== undefined)
    .map(([name, value]) => `${name} ${number(value)}`)
    .join(' · ');
}

/** Three figures, without an exponent. */
function number(value) {
  if (value === undefined || Number.isNaN(value)) return '?';
  return value >= 100 ? String(Math.round(value)) : String(Number(value.toPrecision(value < 10 ? 2 : 3)));
}
