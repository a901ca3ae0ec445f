// Two analyses to what moved between them: the one door of the comparison. Pure, like the analyses themselves.
import type { Analysis, FactRow } from '../analysis.ts';
import { textCodes } from '../checks/codes.ts';
import type { Finding } from '../finding.ts';
import type {
  FactChange,
  FactSide,
  FindingChanges,
  PickChange,
  PlantComparison,
  Renaming,
  StatementChange,
} from './comparison.ts';
import { movedValues } from './moved-values.ts';
import { findRenames } from './renames.ts';

/** A version of a plant; `findings` are those that are to be compared, which may be fewer than the analysis has. */
export interface Version {
  readonly analysis: Analysis;
  readonly findings: readonly Finding[];
}

export function compareVersions(before: Version, after: Version): PlantComparison {
  const facts = { before: before.analysis.facts(), after: after.analysis.facts() };
  const renamed = findRenames(facts.before, facts.after);
  const names = renaming(renamed);
  return {
    renamed,
    ...movedValues(before.analysis, after.analysis, names.before, names.after),
    facts: changedFacts(facts.before, facts.after, names.after),
    picks: changedPicks(before.analysis, after.analysis, names.after),
    statements: changedStatements(before.analysis, after.analysis, names.inText),
    findings: changedFindings(before.findings, after.findings, names.after),
    doubts: doubtsOf(before, after),
  };
}

/** Both ways between `T1.loading` of the old text and of the new one, and tags inside a statement. */
function renaming(renamed: readonly Renaming[]) {
  const forth = new Map(renamed.map(({ before, after }) => [before, after]));
  const back = new Map(renamed.map(({ before, after }) => [after, before]));
  const head = (tags: ReadonlyMap<string, string>) => (name: string) => {
    const [tag = '', ...rest] = name.split('.');
    return [tags.get(tag) ?? tag, ...rest].join('.');
  };
  const inText = (text: string) => text.replace(/[\p{L}_][\p{L}\p{N}_]*/gu, word => forth.get(word) ?? word);
  return { before: head(back), after: head(forth), inText };
}

function changedFacts(
  before: readonly FactRow[],
  after: readonly FactRow[],
  nameAfter: (name: string) => string,
): readonly FactChange[] {
  const keyOf = (name: string, row: FactRow) => JSON.stringify([name, row.case]);
  const old = new Map(before.map(row => [keyOf(nameAfter(nameOf(row)), row), row]));
  const [oldTags, newTags] = [tagsOf(before, nameAfter), tagsOf(after, name => name)];
  const changes = after.flatMap(row => {
    const key = keyOf(nameOf(row), row);
    const was = old.get(key);
    old.delete(key);
    // A component that came or went as a whole is one statement, not a dozen facts.
    return oldTags.has(row.subject) ? (factChange(nameOf(row), row.case, was, row) ?? []) : [];
  });
  const lost = [...old.values()].flatMap(row => {
    const name = nameAfter(nameOf(row));
    return newTags.has(nameAfter(row.subject)) ? (factChange(name, row.case, row, undefined) ?? []) : [];
  });
  return withoutConsequences([...changes, ...lost]);
}

/** `1.5 * B1.resistance` says the same as before: where B1.resistance is listed as changed, that is enough. */
function withoutConsequences(changes: readonly FactChange[]): readonly FactChange[] {
  const reworded = changes.filter(change => !saysTheSame(change));
  const names = new Set(reworded.map(({ name }) => name));
  const leadsBack = ({ after }: FactChange): boolean =>
    (after?.display.match(nameInText) ?? []).some(name => names.has(name));
  return changes.filter(change => !saysTheSame(change) || !leadsBack(change));
}

const nameInText = /[\p{L}_][\p{L}\p{N}_]*\.[\p{L}_][\p{L}\p{N}_]*/gu;

function saysTheSame({ before, after, what }: FactChange): boolean {
  return what === 'value' && before?.display === after?.display && before?.provenance === after?.provenance;
}

function factChange(
  name: string,
  plantCase: string | undefined,
  before: FactRow | undefined,
  after: FactRow | undefined,
): FactChange | undefined {
  // What the tool would assume anyway is no change of the plant.
  if ((before === undefined || before.implied) && (after === undefined || after.implied)) return undefined;
  const same = before?.identity === after?.identity;
  if (same && before?.provenance === after?.provenance) return undefined;
  const sides = { before: before && sideOf(before), after: after && sideOf(after) };
  return { name, case: plantCase, ...sides, what: same ? 'provenance' : 'value' };
}

function sideOf({ display, provenance }: FactRow): FactSide {
  return { display, provenance };
}

function nameOf({ subject, property }: FactRow): string {
  return `${subject}.${property}`;
}

function tagsOf(rows: readonly FactRow[], rename: (name: string) => string): ReadonlySet<string> {
  return new Set(rows.map(({ subject }) => rename(subject)));
}

function changedPicks(before: Analysis, after: Analysis, nameAfter: (name: string) => string): readonly PickChange[] {
  const old = new Map(before.picks.map(pick => [nameAfter(`${pick.subject}.${pick.property}`), pick.text]));
  const now = new Map(after.picks.map(pick => [`${pick.subject}.${pick.property}`, pick.text]));
  return [...new Set([...now.keys(), ...old.keys()])]
    .map(name => ({ name, before: old.get(name), after: now.get(name) }))
    .filter(pick => pick.before !== pick.after || old.has(pick.name) !== now.has(pick.name));
}

function changedStatements(
  before: Analysis,
  after: Analysis,
  inText: (text: string) => string,
): readonly StatementChange[] {
  const old = new Map(statementsOf(before).map(text => [inText(text), text]));
  const now = new Set(statementsOf(after));
  return [
    ...[...now].filter(text => !old.has(text)).map(text => ({ what: 'new', text }) as const),
    ...[...old].filter(([text]) => !now.has(text)).map(([, text]) => ({ what: 'gone', text }) as const),
  ];
}

/** Everything that is declared and is no fact. */
function statementsOf({ outline, requirements, acceptances }: Analysis): readonly string[] {
  const declared = outline.flatMap(({ name, kind, detail }) => {
    if (kind === 'let' || kind === 'require' || kind === 'accept' || kind === 'part' || kind === 'catalogue') return [];
    if (kind === 'use') return `use "${name}"`;
    if (kind === 'connect' || kind === 'case') return `${kind} ${name}`;
    return detail.includes(' is ') ? `${kind} ${name} ${detail.slice(detail.indexOf('is '))}` : `${kind} ${name}`;
  });
  const required = requirements.map(({ name, written, during, because }) =>
    words('require', name && `${name}:`, written, during && `during ${during}`, because && `because "${because}"`),
  );
  const accepted = acceptances.map(({ code, subject, bound, until, because }) =>
    words(`accept ${code} on ${subject}`, bound, until && `until ${until}`, because && `because "${because}"`),
  );
  return [...declared, ...required, ...accepted];
}

function words(...parts: readonly (string | undefined)[]): string {
  return parts.filter(part => part !== undefined && part !== '').join(' ');
}

function changedFindings(
  before: readonly Finding[],
  after: readonly Finding[],
  nameAfter: (name: string) => string,
): FindingChanges {
  const waiting = new Map<string, Finding[]>();
  for (const finding of before) {
    const key = identityOf(finding, nameAfter);
    waiting.set(key, [...(waiting.get(key) ?? []), finding]);
  }
  const pairs = after.map(finding => {
    const candidates = waiting.get(identityOf(finding, name => name)) ?? [];
    const exact = candidates.findIndex(({ message }) => message === finding.message);
    const [was] = candidates.splice(Math.max(0, exact), 1);
    return { before: was, after: finding };
  });
  const both = pairs.flatMap(({ before: was, after: is }) => (was === undefined ? [] : [{ before: was, after: is }]));
  const changed = both.filter(
    ({ before: was, after: is }) => was.severity !== is.severity || was.code !== is.code || was.hazard !== is.hazard,
  );
  return {
    new: pairs.flatMap(({ before: was, after: is }) => (was === undefined ? [is] : [])),
    gone: [...waiting.values()].flat(),
    changed,
    unchanged: both.length - changed.length,
  };
}

/** What a finding is and whom it is about; its numbers may move. */
function identityOf({ code, accepted, subject, value }: Finding, nameAfter: (name: string) => string): string {
  return JSON.stringify([
    accepted?.code ?? code,
    subject === undefined ? undefined : nameAfter(subject),
    value?.name === undefined ? undefined : nameAfter(value.name),
  ]);
}

function doubtsOf(before: Version, after: Version): readonly string[] {
  return [
    ...doubtOf(before, 'The text before has', 'what depends on them there'),
    ...doubtOf(after, 'The text now has', 'what depends on them now'),
  ];
}

function doubtOf({ analysis }: Version, head: string, what: string): readonly string[] {
  const mistakes = analysis.findings.filter(({ code, severity }) => severity === 'error' && textCodes.has(code)).length;
  if (mistakes === 0) return [];
  const counted = mistakes === 1 ? 'a mistake that hinders' : `${mistakes} mistakes that hinder`;
  return [`${head} ${counted} reading it: ${what} could not be compared.`];
}
