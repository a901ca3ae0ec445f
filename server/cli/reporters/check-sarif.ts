// `check --format sarif`: SARIF 2.1.0 for code scanning and for the viewers of other systems.
import type { Code } from '../../../engine/checks/codes.ts';
import { documentationOf } from '../../../engine/checks/documentation.ts';
import type { Finding, Severity } from '../../../engine/finding.ts';
import { byWeight } from '../gather.ts';
import { type CheckReport, notCheckedIn, type ShownFinding, type ShownFix, type ShownPlace } from '../report.ts';

/** Put in by the build, from package.json. */
declare const WATTWRIGHT_VERSION: string;

type Level = 'error' | 'warning' | 'note' | 'none';

const levelOf: Readonly<Record<Severity, Level>> = { error: 'error', warning: 'warning', note: 'note', hint: 'none' };

/** Code scanning keeps so many results of a run, so many places of a result, and ten megabytes of packed text. */
const limits = { results: 5000, places: 100, characters: 9_000_000 };

/** Cut by rule where the limits ask for it: workings first, then results from the lightest up; hazards go last. */
export function checkAsSarif(report: CheckReport): string {
  const all = byWeight(report);
  let kept = all.slice(0, limits.results);
  let bare = false;
  for (;;) {
    const text = `${JSON.stringify(sarifLog(report, all, kept, bare), null, 2)}\n`;
    if (text.length <= limits.characters || kept.length <= 1) return text;
    if (bare) kept = kept.slice(0, Math.floor(kept.length * 0.8));
    bare = true;
  }
}

function sarifLog(
  report: CheckReport,
  all: readonly ShownFinding[],
  kept: readonly ShownFinding[],
  bare: boolean,
): object {
  const codes = [...new Set(kept.map(({ finding }) => codeOf(finding)))].sort();
  // The order of the files and the text, whatever was cut.
  const chosen = new Set(kept);
  const results = report.files
    .flatMap(file => file.findings)
    .filter(shown => chosen.has(shown))
    .map(shown => resultOf(shown, codes, bare));
  const unreadable = report.unreadable.map(({ path, reason }) => ({
    level: 'error',
    message: { text: `It could not be read: ${reason}.` },
    locations: [{ physicalLocation: { artifactLocation: artifact(path) } }],
  }));
  const remarks = remarksOf(report, all, kept, bare).map(text => ({ level: 'note', message: { text } }));
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Wattwright', version: WATTWRIGHT_VERSION, rules: codes.map(ruleOf) } },
        automationDetails: { id: 'wattwright/' },
        invocations: [
          {
            executionSuccessful: report.unreadable.length === 0,
            toolExecutionNotifications: [...unreadable, ...remarks],
          },
        ],
        originalUriBaseIds: { ROOT: { description: { text: 'The root of the repository.' } } },
        columnKind: 'utf16CodeUnits',
        results,
      },
    ],
  };
}

function remarksOf(
  report: CheckReport,
  all: readonly ShownFinding[],
  kept: readonly ShownFinding[],
  bare: boolean,
): readonly string[] {
  const left = all.length - kept.length;
  return [
    ...(left > 0 ? [`${left} of ${all.length} findings are left out, the lightest first: no more are taken.`] : []),
    ...(bare ? ['How the numbers came about is left out: the file would be too large.'] : []),
    ...report.remarks,
    ...notCheckedIn(report).map(words => `Not checked: ${words}.`),
  ];
}

/** An acceptance changes what is done about a finding, not what it is. */
function codeOf({ code, accepted }: Finding): Code {
  return accepted?.code ?? code;
}

function ruleOf(code: Code): object {
  const { title, why, remedy, source, hazard } = documentationOf(code);
  const parts = [
    ['Why it matters', why],
    ['What to do', remedy],
    ['Where the limit comes from', source],
  ];
  const caution = 'Local codes, the makers’ instructions and the judgement of a licensed engineer come first.';
  return {
    id: code,
    name: code,
    shortDescription: { text: `${hazard === true ? 'Hazard: ' : ''}${title}.` },
    fullDescription: { text: why },
    help: {
      text: [...parts.map(([head, text]) => `${head}: ${text}`), caution].join('\n\n'),
      markdown: [...parts.map(([head, text]) => `**${head}.** ${text}`), `_${caution}_`].join('\n\n'),
    },
    properties: { tags: hazard === true ? ['hazard'] : [] },
  };
}

function resultOf(shown: ShownFinding, codes: readonly Code[], bare: boolean): object {
  const { finding, at, related, steps, fixes, fingerprint } = shown;
  const code = codeOf(finding);
  const { accepted } = finding;
  return {
    ruleId: code,
    ruleIndex: codes.indexOf(code),
    level: levelOf[finding.severity],
    message: { text: finding.message },
    locations: [{ ...location(at), ...logicalLocations(finding.subject) }],
    // The second is the name that code scanning looks for; the line's text would change with the value.
    partialFingerprints: { 'finding/v1': fingerprint, primaryLocationLineHash: fingerprint },
    ...some('relatedLocations', related.slice(0, limits.places).map(labelled)),
    ...some('codeFlows', bare || steps.length === 0 ? [] : [codeFlow(shown)]),
    ...some('fixes', bare ? [] : fixes.map(fixOf)),
    ...(accepted === undefined ? {} : { suppressions: [suppression(accepted)] }),
    properties: propertiesOf(finding),
  };
}

function propertiesOf({ hazard, value, limit, source, accepted }: Finding): object {
  return {
    hazard,
    ...(value === undefined ? {} : { value: value.display, ...(value.name === undefined ? {} : { name: value.name }) }),
    ...(limit === undefined ? {} : { limit: limit.display }),
    ...(source === undefined ? {} : { source }),
    ...(accepted?.until === undefined ? {} : { acceptedUntil: accepted.until }),
  };
}

function suppression({ because }: NonNullable<Finding['accepted']>): object {
  return { kind: 'inSource', status: 'accepted', ...(because === undefined ? {} : { justification: because }) };
}

/** From the stated facts, the farthest first, to the place of the finding. */
function codeFlow({ finding, at, steps }: ShownFinding): object {
  const facts = [...steps.slice(0, limits.places - 1)].reverse().map(step => ({ location: labelled(step) }));
  const end = { location: { ...location(at), message: { text: endText(finding) } } };
  return { threadFlows: [{ locations: [...facts, end] }] };
}

function endText({ value, limit, message }: Finding): string {
  if (value?.name === undefined) return message;
  return `${value.name} = ${value.display}${limit === undefined ? '' : `, judged against ${limit.display}`}`;
}

function fixOf({ title, edits }: ShownFix): object {
  const byFile = new Map<string, object[]>();
  for (const { path, range, text } of edits) {
    const replacements = byFile.get(path) ?? [];
    byFile.set(path, replacements);
    replacements.push({ deletedRegion: region({ path, range }), insertedContent: { text } });
  }
  return {
    description: { text: title },
    artifactChanges: [...byFile].map(([path, replacements]) => ({ artifactLocation: artifact(path), replacements })),
  };
}

function labelled(place: ShownPlace & { readonly message: string }): object {
  return { ...location(place), message: { text: place.message } };
}

function location(place: ShownPlace): object {
  return { physicalLocation: { artifactLocation: artifact(place.path), region: region(place) } };
}

function logicalLocations(subject: string | undefined): object {
  return subject === undefined ? {} : { logicalLocations: [{ name: subject, kind: 'object' }] };
}

function region({ range: { start, end } }: ShownPlace): object {
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

/** An address below the root of the repository, each name encoded by itself. */
function artifact(path: string): object {
  return { uri: path.split('/').map(encode).join('/'), uriBaseId: 'ROOT' };
}

/** A name that holds half a pair of surrogates has no encoding: the half becomes a mark. */
function encode(name: string): string {
  return encodeURIComponent(name.replace(/\p{Surrogate}/gu, '\ufffd'));
}

function some(name: string, list: readonly object[]): object {
  return list.length === 0 ? {} : { [name]: list };
}
