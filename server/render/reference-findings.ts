// Reference pages of the findings: why each matters, what to do about it, where its limit comes from, and an example.
import { type Code, codes, textCodes } from '../../engine/checks/codes.ts';
import { type Documentation, documentationOf } from '../../engine/checks/documentation.ts';
import { soundExample } from '../../engine/checks/example.ts';
import { exampleSection } from './reference-example.ts';
import { block, code as codeSpan, page, table } from './reference-text.ts';

/** A page whose text is only made when somebody reads it: its example is run. */
export interface FindingPage {
  readonly page: string;
  /** Heading and first sentence. */
  readonly head: string;
  readonly rest: () => string;
}

/** `findings/index.md`, the plant of the examples, and a page for each code. */
export function findingPages(): readonly FindingPage[] {
  const rows = codes.map(code => [`[${codeSpan(code)}](${code}.md)`, documentationOf(code).title]);
  return [
    {
      page: 'findings/index.md',
      head: page('# Findings', 'What can be wrong with a plant or with its text.'),
      rest: () => table(['code', 'meaning'], rows),
    },
    ...codes.map(code => codePage(documentationOf(code))),
    {
      page: 'findings/example.md',
      head: page('# Example plant', 'The examples of all findings are changes of this plant, which has none.'),
      rest: () => block(soundExample),
    },
  ];
}

function codePage(documentation: Documentation): FindingPage {
  const { code, title, why, remedy, source, hazard } = documentation;
  return {
    page: `findings/${code}.md`,
    head: page(`# ${code}`, `${title}.`),
    rest: () =>
      page(
        hazard === true ? '**Hazard**: someone could be hurt, or something burn.' : '',
        '## Why it matters',
        why,
        '## What to do',
        remedy,
        textCodes.has(code) ? '## What it rests on' : '## Where the limit comes from',
        sentence(source),
        exampleSection(documentation),
        acceptable(code, hazard === true),
        textCodes.has(code) ? '' : caution,
      ),
  };
}

/** A source begins and ends as a sentence does, whatever it is in a check. */
function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1).replace(/\.$/, '')}.`;
}

const caution =
  'Local codes, the makers’ instructions and the judgement of a licensed engineer come before what is said here.';

/** Says what an acceptance came to, or is completed instead of agreed to. */
const neverAgreed: ReadonlySet<Code> = new Set<Code>([
  'accepted',
  'assumed_by_tool',
  'missing_fact',
  'unconnected',
  'not_checked',
]);

function acceptable(code: Code, hazard: boolean): string {
  if (hazard) return 'It can’t be accepted: what could injure or burn is removed, never agreed to.';
  if (textCodes.has(code)) return 'It can’t be accepted: a mistake in the text is mended.';
  if (neverAgreed.has(code) || code.startsWith('acceptance_')) return '';
  return `Where it was agreed to: \`accept ${code} on TAG until 2027-06-30 because "…"\`.`;
}
