// The reference as pages of Markdown: kinds, results, findings and units, each made of what the engine itself knows.
import { referencePages as kindPages } from '../../engine/kinds/reference.ts';
import { findingPages } from './reference-findings.ts';
import { resultPages } from './reference-results.ts';
import { unitPage } from './reference-units.ts';

export interface ReferencePage {
  /** `kinds/battery.md`. */
  readonly page: string;
  readonly title: string;
  readonly about: string;
}

const pages: ReadonlyMap<string, string> = new Map([
  ['index.md', indexPage()],
  ...[...kindPages()].map(([page, text]) => [`kinds/${page}`, text] as const),
  ...resultPages(),
  ...findingPages(),
  ['units.md', unitPage()],
]);

export function referencePage(page: string): string | undefined {
  return pages.get(page);
}

/** All pages with the heading and the first sentence of each, in the order in which people look for them. */
export function listReference(): readonly ReferencePage[] {
  return [...pages].map(([page, text]) => {
    const [heading = '', about = ''] = text.split('\n\n');
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
`;
}
