// Fits a text of weighted rows into a number of characters: the lightest rows go first, and it says how many went.

export interface Block {
  /** Left out with the last of its rows. */
  readonly heading: string | undefined;
  readonly rows: readonly Row[];
  /** Behind the last row. */
  readonly end?: string;
  /** No empty line between heading and rows. */
  readonly tight?: boolean;
}

export interface Row {
  readonly weight: number;
  readonly text: string;
}

export function row(weight: number, text: string): Row {
  return { weight, text };
}

export function fitted(blocks: readonly Block[], most: number): string {
  const full = render(blocks);
  if (full.length <= most) return full;
  const rows = blocks.flatMap(block => block.rows);
  // The lightest first; among equals the last ones.
  const order = rows
    .map((one, index) => ({ one, index }))
    .sort((a, b) => a.one.weight - b.one.weight || b.index - a.index);
  const room = most - sentence(rows.length).length;
  let low = 1;
  let high = order.length;
  const without = (count: number): string => {
    const gone = new Set(order.slice(0, count).map(({ one }) => one));
    return render(blocks.map(block => ({ ...block, rows: block.rows.filter(one => !gone.has(one)) })));
  };
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (without(middle).length <= room) high = middle;
    else low = middle + 1;
  }
  return `${without(low).slice(0, Math.max(0, room))}${sentence(low)}`;
}

function sentence(count: number): string {
  return `\n_${count} ${count === 1 ? 'line is' : 'lines are'} left out for length, the least important first._\n`;
}

function render(blocks: readonly Block[]): string {
  const shown = blocks.filter(({ rows }) => rows.length > 0);
  return `${shown.map(renderBlock).join('\n\n')}\n`;
}

function renderBlock({ heading, rows, end, tight }: Block): string {
  const body = rows.map(({ text }) => text).join('\n');
  const head = heading === undefined ? '' : `${heading}${tight === true ? '\n' : '\n\n'}`;
  return `${head}${body}${end === undefined ? '' : `\n${end}`}`;
}
