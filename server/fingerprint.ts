// Recognises a finding again in another version of the text: by what it is and whom it is about, never by its numbers.
import { createHash } from 'node:crypto';
import type { Finding } from '../engine/finding.ts';
import type { LineIndex } from './lines.ts';

/** What `fingerprints` needs to know of a finding. */
export interface Fingerprinted {
  readonly finding: Finding;
  /** The file as output names it. */
  readonly path: string;
  readonly lines: LineIndex | undefined;
}

/**
 * One for each finding, in order. They stay the same when lines move, values change or files come in another order, and
 * change with the code, the tag, the file and the property. Equal findings are counted, so that each has its own.
 */
export function fingerprints(all: readonly Fingerprinted[]): readonly string[] {
  const seen = new Map<string, number>();
  return all.map(one => {
    const key = keyOf(one);
    const before = seen.get(key) ?? 0;
    seen.set(key, before + 1);
    return createHash('sha256').update(`${key} ${before}`).digest('hex').slice(0, 32);
  });
}

function keyOf({ finding, path, lines }: Fingerprinted): string {
  const code = finding.accepted?.code ?? finding.code;
  return JSON.stringify([
    code,
    path,
    finding.subject,
    finding.value?.name,
    lines && saidAt(lines, finding.place.start),
  ]);
}

/** The words of a line that say what is stated there, without its value: `secondary_voltage`, `require T1.loading`. */
function saidAt({ text }: LineIndex, start: number): string {
  const lead = text.slice(text.lastIndexOf('\n', start - 1) + 1, start);
  const statement = lead.slice(Math.max(lead.lastIndexOf('{'), lead.lastIndexOf(',')) + 1);
  const rest = /^[^\n={}<>≤≥!]*/u.exec(text.slice(start, start + 200))?.[0] ?? '';
  const words = `${statement}${rest}`.match(/[\p{L}_][\p{L}\p{N}_.]*/gu) ?? [];
  return words.slice(0, 2).join(' ');
}
