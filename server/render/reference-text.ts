// Small pieces of Markdown that the reference pages share.

export function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const lines = [heads, heads.map(() => '---'), ...rows].map(cells => {
    return `| ${cells.map(cell => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  });
  return lines.join('\n');
}

export function code(text: string): string {
  return `\`${text}\``;
}

/** Paragraphs with a blank line between, those that are empty left out. */
export function page(...paragraphs: readonly string[]): string {
  return `${paragraphs.filter(Boolean).join('\n\n')}\n`;
}

/** A text of the plant language, set apart. */
export function block(text: string): string {
  return `\`\`\`plant\n${text.trim()}\n\`\`\``;
}
