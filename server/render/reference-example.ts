// The example on the page of a finding: a text with the mistake, what the tool says of it, and the text mended.
import type { FileState } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import { type Documentation, differing, exampleOf } from '../../engine/checks/documentation.ts';
import type { Finding } from '../../engine/finding.ts';
import { parse } from '../../grammar/parse.ts';
import { block, page } from './reference-text.ts';

/** Runs both texts, so that the page says what this version really says. */
export function exampleSection(documentation: Documentation): string {
  const { bad, mended } = exampleOf(documentation);
  const [wrong, right] = [differing(bad, mended), differing(mended, bad)];
  const lacking = wrong === '' ? right.split('\n').filter(line => !bad.includes(line)) : [];
  return page(
    '## Example',
    wrong === '' ? 'The [example plant](example.md) without these lines:' : 'In the [example plant](example.md):',
    wrong === '' ? block(lacking.join('\n')) : block(wrong),
    ...sayings(documentation, bad, mended),
    wrong === '' ? 'Mended: the lines are there.' : right === '' ? 'Mended: without these lines.' : 'Mended:',
    wrong === '' || right === '' ? '' : block(right),
  ).trimEnd();
}

/** What is said of the bad text and not of the mended one, a few at most. */
function sayings({ code }: Documentation, bad: string, mended: string): readonly string[] {
  const left = new Set(said(mended, code).map(({ message }) => message));
  const gone = said(bad, code).filter(({ message }) => !left.has(message));
  return gone.slice(0, most).map(({ severity, place, message }) => {
    const [marked = ''] = bad.slice(place.start, place.end).split('\n');
    return `> ${severity} at \`${marked.trim()}\`: ${message}`;
  });
}

const most = 2;

function said(text: string, code: string): readonly Finding[] {
  const path = 'example.plant';
  const files = new Map<string, FileState>([[path, { state: 'text', tree: parse(text) }]]);
  // Acceptances of the examples run out long before this day or long after it.
  return analyze(path, { files }, { today: '2026-01-01' }).findings.filter(finding => finding.code === code);
}
