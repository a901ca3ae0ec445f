// The reference as pages of Markdown: kinds, results, findings and units, each made of what the engine itself knows.
import { referencePages as kindPages } from '../../engine/kinds/reference.ts';
import { findingPages } from './reference-findings.ts';
import { resultPages } from './reference-results.ts';
import { unitPage } from './reference-units.ts';
import { wordsPage } from './words.ts';

export interface ReferencePage {
  /** `kinds/battery.md`. */
  readonly page: string;
  readonly title: string;
  readonly about: string;
}

interface Page {
  readonly head: string;
  /** What follows the first sentence, where it is only made when somebody reads it. */
  readonly rest: () => string;
}

const pages: ReadonlyMap<string, Page> = new Map([
  ['index.md', made(indexPage())],
  ...[...kindPages()].map(([page, text]) => [`kinds/${page}`, made(text)] as const),
  ...resultPages().map(([page, text]) => [page, made(text)] as const),
  ...findingPages().map(({ page, head, rest }) => [page, { head, rest }] as const),
  ['units.md', made(unitPage())],
  ['words.md', made(wordsPage())],
]);

function made(text: string): Page {
  return { head: text, rest: () => '' };
}

export function referencePage(page: string): string | undefined {
  const found = pages.get(page);
  if (found === undefined) return undefined;
  const rest = found.rest();
  return rest === '' ? found.head : `${found.head}\n${rest.trimEnd()}\n`;
}

/** All pages with the heading and the first sentence of each, in the order in which people look for them. */
export function listReference(): readonly ReferencePage[] {
  return [...pages].map(([page, { head }]) => {
    const [heading = '', about = ''] = head.trimEnd().split('\n\n');
    return { page, title: heading.replace(/^#+ /, ''), about: about.startsWith('|') ? '' : about };
  });
}

/** The page of a finding's code. */
export function findingPage(code: string): string {
  return `findings/${code}.md`;
}

function indexPage(): string {
  return `# Reference

What the language knows and the tool computes and checks, as this version has it.

- [Kinds and their properties](kinds/index.md)
- [Results](results/index.md)
- [Findings](findings/index.md)
- [Units](units.md)
- [Words and signs](words.md)
`;
}
