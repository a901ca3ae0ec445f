// A page of the reference for the terminal: headings in bold, texts of the plant language set in, links as their words.
import type { Style } from '../terminal.ts';

const widest = 100;

export function pageAsText(markdown: string, style: Style): string {
  const rows: string[] = [];
  let inBlock = false;
  for (const line of markdown.trimEnd().split('\n')) {
    if (line.startsWith('```')) inBlock = !inBlock;
    else if (inBlock) rows.push(`    ${line}`.trimEnd());
    else if (line.startsWith('#')) rows.push(style.bold(line.replace(/^#+ /, '')));
    else rows.push(...wrapped(plain(line)));
  }
  return `${rows.join('\n')}\n`;
}

function plain(line: string): string {
  return line.replace(/\[([^\]]+)\]\([^)]+\)/g, '$1').replaceAll('**', '');
}

/** A quotation keeps its mark on every row. */
function wrapped(line: string): readonly string[] {
  const lead = line.startsWith('> ') ? '> ' : '';
  const rows: string[] = [];
  let row = '';
  for (const word of line.slice(lead.length).split(' ')) {
    if (row !== '' && row.length + word.length + 1 > widest) {
      rows.push(row);
      row = '';
    }
    row += row === '' ? word : ` ${word}`;
  }
  return [...rows, row].map(one => `${lead}${one}`);
}
