// Collects what the lowering of a plant has to say about its text, once for each place and code.
import type { PlacedChunk, Span } from '../../grammar/ast.ts';
import type { WorkspacePath } from '../analysis.ts';
import type { Code } from '../checks/codes.ts';
import type { Finding, Fix, Place, RelatedPlace, Severity } from '../finding.ts';

export interface TextFinding {
  readonly code: Code;
  readonly place: Place;
  readonly message: string;
  readonly severity?: Severity;
  readonly subject?: string | undefined;
  readonly related?: readonly RelatedPlace[];
  readonly fixes?: readonly Fix[];
}

const longest = 800;

export class Report {
  /** How often something was to be said, also where it was said already or is held back: asked by who keeps what came of it. */
  said = 0;
  private readonly byKey = new Map<string, Finding>();

  /** Unknown absorbs: one place gets at most one finding of a code. */
  add(finding: TextFinding): void {
    this.said++;
    const key = `${finding.place.path}:${finding.place.start}:${finding.place.end}:${finding.code}`;
    if (this.byKey.has(key)) return;
    this.byKey.set(key, {
      code: finding.code,
      severity: finding.severity ?? 'error',
      hazard: false,
      message: shortened(finding.message),
      subject: finding.subject,
      place: finding.place,
      related: finding.related ?? [],
      value: undefined,
      limit: undefined,
      point: undefined,
      source: undefined,
      fixes: finding.fixes ?? [],
    });
  }

  /** Something is wrong, unless text that nobody could read puts it right. */
  holdBack(): void {
    this.said++;
  }

  get findings(): readonly Finding[] {
    return [...this.byKey.values()];
  }
}

/** A name of a thousand letters is a mistake that nobody wants to read twice. */
function shortened(message: string): string {
  return message.length <= longest ? message : `${message.slice(0, longest)} …`;
}

/** A fix that puts one text in place of another. */
export function replaceFix(place: Place, text: string, safe = false): Fix {
  return { title: `Change to \`${text}\``, safe, edits: [{ place, text }] };
}

/** What the grammar says of a declaration, in the words of findings. */
export function reportProblems(path: WorkspacePath, { start, chunk }: PlacedChunk, report: Report): void {
  const placeIn = (span: Span): Place => ({ path, start: start + span.start, end: start + span.end });
  for (const { code, message, span, fix } of chunk.problems) {
    const edits = fix?.edits.map(edit => ({ place: placeIn(edit.span), text: edit.text }));
    const fixes = fix === undefined || edits === undefined ? [] : [{ title: fix.title, safe: true, edits }];
    report.add({ code, place: placeIn(span), message, fixes });
  }
}
