// Reference pages of the findings: why each matters, what to do about it, and where its limit comes from.
import type { Check } from '../../engine/checks/check.ts';
import { type Code, codes, textCodes } from '../../engine/checks/codes.ts';
import { checks } from '../../engine/checks/index.ts';
import { code as codeSpan, page, table } from './reference-text.ts';

/** `findings/index.md` and a page for each code. */
export function findingPages(): readonly (readonly [string, string])[] {
  const rows = codes.map(code => [`[${codeSpan(code)}](${code}.md)`, titleOf(code)]);
  const index = page(
    '# Findings',
    'What can be wrong with a plant or with its text.',
    table(['code', 'meaning'], rows),
  );
  return [['findings/index.md', index], ...codes.map(code => [`findings/${code}.md`, codePage(code)] as const)];
}

function codePage(code: Code): string {
  const check = checks.find(one => one.code === code);
  if (check !== undefined) return checkPage(check);
  const { title, remedy } = withoutCheck[code] ?? { title: '', remedy: '' };
  return page(`# ${code}`, `${title}.`, remedy && '## What to do', remedy, acceptable(code, false));
}

function checkPage({ code, title, why, remedy, source, hazard }: Check): string {
  return page(
    `# ${code}`,
    `${title}.`,
    hazard === true ? '**Hazard**: someone could be hurt, or something burn.' : '',
    '## Why it matters',
    why,
    '## What to do',
    remedy,
    '## Where the limit comes from',
    sentence(source),
    acceptable(code, hazard === true),
    caution,
  );
}

/** A source begins and ends as a sentence does, whatever it is in a check. */
function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1).replace(/\.$/, '')}.`;
}

const caution =
  'Local codes, the makers’ instructions and the judgement of a licensed engineer come before what is said here.';

function acceptable(code: Code, hazard: boolean): string {
  if (hazard) return 'It can’t be accepted: what could injure or burn is removed, never agreed to.';
  if (textCodes.has(code)) return 'It can’t be accepted: a mistake in the text is mended.';
  if (code === 'accepted' || code.startsWith('acceptance_')) return '';
  return `Where it was agreed to: \`accept ${code} on TAG until 2027-06-30 because "…"\`.`;
}

function titleOf(code: Code): string {
  return checks.find(one => one.code === code)?.title ?? withoutCheck[code]?.title ?? '';
}

/** Codes that no single check raises: they come from reading the text, or from acceptances. */
const withoutCheck: Readonly<Partial<Record<Code, { readonly title: string; readonly remedy: string }>>> = {
  unconnected: {
    title: 'A component or the whole plant is not connected',
    remedy: 'Name it in a `connect` chain from the grid to the battery, or remove it.',
  },
  accepted: {
    title: 'A finding that was agreed to',
    remedy: 'Nothing, until the date or the bound of the acceptance is reached.',
  },
  acceptance_expired: {
    title: 'An acceptance has run out',
    remedy: 'Agree on it again with a new date, or mend what it accepted.',
  },
  acceptance_unused: { title: 'An acceptance meets no finding', remedy: 'Remove the line.' },
  not_checked: {
    title: 'Something that this version does not look at',
    remedy: 'Check it by other means.',
  },
  syntax: { title: 'The text can’t be read here', remedy: 'Write what the message asks for.' },
  unknown_name: {
    title: 'A name that means nothing here',
    remedy: 'Correct its spelling, declare it, or bring it in with `use`.',
  },
  unknown_property: {
    title: 'A kind has no property of this name',
    remedy: 'Correct its spelling; the page of the kind lists what there is.',
  },
  unknown_unit: { title: 'A unit that nobody knows', remedy: 'Write one of the units of the reference.' },
  wrong_dimension: {
    title: 'A value of the wrong dimension',
    remedy: 'Write it in a unit of the dimension that the message names.',
  },
  wrong_value: { title: 'A value that does not belong here', remedy: 'Write what the message asks for.' },
  duplicate: { title: 'The same thing is said twice', remedy: 'Keep one of the two.' },
  cycle: { title: 'Something depends on itself', remedy: 'State one of the values in the circle outright.' },
  reversed_range: { title: 'A range begins above its end', remedy: 'Write the smaller end first.' },
  decimal_comma: { title: 'A comma inside of a number', remedy: 'Decimals follow a point: `0.4`.' },
  missing_file: { title: 'A used file is not there', remedy: 'Correct the path, or add the file.' },
  outside_workspace: {
    title: 'A path leads out of the workspace',
    remedy: 'Keep what a plant uses inside of its workspace.',
  },
  not_evaluated: {
    title: 'Something that is read but not evaluated yet',
    remedy: 'Nothing: no result depends on it in this version.',
  },
};
