// Completion: what may stand at the cursor, the likeliest first.
import { codes, textCodes } from '../../engine/checks/codes.ts';
import { kindByName, kinds, propertyOf } from '../../engine/kinds/index.ts';
import type { Kind, Property } from '../../engine/kinds/kind.ts';
import { type CompletionPlace, completionPlace, type Head } from './completion-place.ts';
import { propertySnippet, unitsBehindNumber, valuesFor, wordsAfterValue } from './completion-values.ts';
import type { FileContext } from './context.ts';
import { propertyMarkdown, typeInWords } from './property-text.ts';
import { entitiesOf, type Visible, visibleFrom } from './symbols.ts';

export type CompletionType =
  | 'kind'
  | 'keyword'
  | 'snippet'
  | 'property'
  | 'unit'
  | 'choice'
  | 'component'
  | 'part'
  | 'result'
  | 'value'
  | 'code'
  | 'file'
  | 'function';

export interface Completion {
  readonly label: string;
  readonly type: CompletionType;
  /** What replaces the text from `start` to `end`, offsets in the file. */
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** `text` holds placeholders. */
  readonly snippet: boolean;
  readonly detail?: string;
  readonly markdown?: string;
}

/** A completion before it is known where it goes. */
export interface Offer {
  readonly label: string;
  readonly type: CompletionType;
  readonly text?: string;
  readonly snippet?: boolean;
  readonly detail?: string;
  readonly markdown?: string;
}

export interface CompletionContext extends FileContext {
  /** Paths of other files, relative to this one, that `use` could name. */
  readonly usable: readonly string[];
}

export function completion(context: CompletionContext, offset: number): readonly Completion[] {
  const place = completionPlace(context.tree, offset);
  if (place === undefined) return [];
  const offers = 'quoted' in place ? inString(place.head, context) : offersAt(place, context);
  return offers.map(({ text, snippet = false, ...offer }) => {
    return { ...offer, text: text ?? offer.label, snippet, start: place.start, end: offset };
  });
}

function inString({ word }: Head, { usable }: CompletionContext): readonly Offer[] {
  return word === 'use' ? usable.map(path => ({ label: path, type: 'file' })) : [];
}

function offersAt(place: CompletionPlace, context: CompletionContext): readonly Offer[] {
  if (place.depth === 0) return outsideBlocks(place, context);
  const { word } = place.head;
  if (word === 'case') return inCase(place, context);
  const kind = kindByName.get(word === 'catalogue' ? (place.head.words[1] ?? '') : word);
  if (kind === undefined || (word === 'catalogue' && place.depth === 1)) return [];
  return inBlock(kind, place, context);
}

/** In the block of a component, part or catalogue row. */
function inBlock(kind: Kind, place: CompletionPlace, context: CompletionContext): readonly Offer[] {
  if (place.statement.trim() === '') return missingProperties(kind, place.block);
  const [, name = '', value] = place.statement.match(/^\s*([\p{L}_][\p{L}\p{N}_]*)\s*=([\s\S]*)$/u) ?? [];
  const property = propertyOf(kind, name);
  return value === undefined || property === undefined ? [] : behindEquals(property, value, place, context);
}

function behindEquals(
  property: Property,
  value: string,
  place: CompletionPlace,
  context: CompletionContext,
): readonly Offer[] {
  const units = unitsBehindNumber(property.type, value, place.prefix);
  if (units !== undefined) return units;
  if (/[\p{L}%°Ω‰²³\d)"]\s+$/u.test(value)) return wordsAfterValue(property.type, value);
  return [...valuesFor(property, value, context), ...letsAndFunctions(property, context)];
}

/** Of what the block lacks, the required first; in the order of the kind's table otherwise. */
function missingProperties(kind: Kind, block: string): readonly Offer[] {
  const present = new Set(
    Array.from(block.matchAll(/(?:^|[{,\n])\s*([\p{L}_][\p{L}\p{N}_]*)\s*=/gu), match => match[1]),
  );
  const rank: readonly Property['need'][] = ['required', 'expected', 'optional'];
  return kind.properties
    .filter(({ name }) => !present.has(name))
    .toSorted((a, b) => rank.indexOf(a.need) - rank.indexOf(b.need))
    .map(property => ({
      label: property.name,
      type: 'property',
      text: propertySnippet(property),
      snippet: true,
      detail: `${property.need === 'required' ? 'required: ' : ''}${typeInWords(property.type)}`,
      markdown: propertyMarkdown(property, kind.name),
    }));
}

function inCase(place: CompletionPlace, context: CompletionContext): readonly Offer[] {
  const { statement } = place;
  const [, tag, name, value] =
    statement.match(/^\s*([\p{L}_][\p{L}\p{N}_]*)\.([\p{L}_][\p{L}\p{N}_]*)?\s*(?:=([\s\S]*))?$/u) ?? [];
  if (tag === undefined) return statement.trim() === '' ? components(context) : [];
  const kind = kindOfTag(tag, context);
  if (kind === undefined) return [];
  if (value === undefined) return name === undefined ? missingProperties(kind, '') : [];
  const property = propertyOf(kind, name ?? '');
  return property === undefined ? [] : behindEquals(property, value, place, context);
}

function outsideBlocks(place: CompletionPlace, context: CompletionContext): readonly Offer[] {
  const { head, before } = place;
  // A line of its own, whatever stands above it.
  if (/(?:^|\n)[ \t]*$/.test(before) && !/(?:->|→)\s*$/.test(before)) return declarations(context);
  const line = before.slice(before.lastIndexOf('\n') + 1);
  switch (head.word) {
    case 'connect':
      return /(?:connect|->|→)\s*$/.test(before) ? components(context) : [];
    case 'require':
      return inRequire(line, place, context);
    case 'accept':
      return inAccept(line, context);
    case 'let':
      return /[=(+*/-]\s*$/.test(line) ? letsAndFunctions(undefined, context) : [];
    case 'case':
      return /\bis\s+(?:[\s\S]*,)?\s*$/.test(line) ? namesOf('case', context) : [];
    case 'catalogue':
      return head.words.length === 1 ? kindWords() : [];
    case 'use':
      return /"\s+$/.test(line) ? [{ label: 'as', type: 'keyword' }] : [];
    default:
      return afterKind(head, line, context);
  }
}

/** `part `, `battery B1 `, `battery B1 is `. */
function afterKind(head: Head, line: string, context: CompletionContext): readonly Offer[] {
  if (head.part && head.words.length === 1) return kindWords();
  const kind = kindByName.get(head.word);
  if (kind === undefined) return [];
  const behindDot = line.match(/\bis\s+(?:pick\s+)?((?:[\p{L}_][\p{L}\p{N}_]*\.)*)$/u);
  if (behindDot !== null) {
    const parts = partsFor(kind, context, behindDot[1] ?? '');
    return /\bpick\s/.test(line) || behindDot[1] !== ''
      ? parts
      : [...parts, { label: 'pick', type: 'keyword', detail: 'the smallest that holds' }];
  }
  return head.words.length === (head.part ? 3 : 2) && /\s$/.test(line) ? [{ label: 'is', type: 'keyword' }] : [];
}

function partsFor(kind: Kind, context: CompletionContext, typed: string): readonly Offer[] {
  return visibleParts(context).flatMap(({ written, declared: { declaration, path } }) => {
    const fits = declaration.type !== 'let' && declaration.kind?.text === kind.name && written.startsWith(typed);
    if (!fits) return [];
    const rows = declaration.type === 'catalogue' ? declaration.rows.map(row => `${written}.${row.name.text}`) : [];
    return [written, ...rows]
      .filter(name => name.startsWith(typed))
      .map(name => offerPart(name.slice(typed.length), path, declaration.doc));
  });
}

function offerPart(label: string, path: string, doc: string | undefined): Offer {
  return { label, type: 'part', detail: path, ...(doc === undefined ? {} : { markdown: doc }) };
}

function inRequire(line: string, place: CompletionPlace, context: CompletionContext): readonly Offer[] {
  const behindTag = line.match(/([\p{L}_][\p{L}\p{N}_]*)\.$/u)?.[1];
  if (behindTag !== undefined) return results(behindTag, context);
  if (/\bduring\s+$/.test(line)) return namesOf('duty', context);
  const compared = line.match(/([\p{L}_][\p{L}\p{N}_]*\.[\p{L}_][\p{L}\p{N}_]*)[^.]*$/u)?.[1];
  const units = compared && unitsBehindNumber(context.analysis.values.worst(compared)?.unit, line, place.prefix);
  if (units) return units;
  if (/[\p{L}%\d]\s+$/u.test(line) && /[<>=≤≥≠]/.test(line)) {
    return ['during', 'because'].filter(word => !line.includes(word)).map(word => ({ label: word, type: 'keyword' }));
  }
  return /(?:require|:|[<>=≤≥≠+*/(-])\s*$/.test(line) ? components(context) : [];
}

function results(tag: string, { analysis }: CompletionContext): readonly Offer[] {
  return analysis.values.names
    .filter(name => name.startsWith(`${tag}.`))
    .map(name => {
      const row = analysis.values.worst(name);
      const known = row === undefined ? {} : { detail: row.display, markdown: row.meaning };
      return { label: name.slice(tag.length + 1), type: 'result', ...known };
    });
}

function inAccept(line: string, context: CompletionContext): readonly Offer[] {
  if (/\bon\s+$/.test(line)) return components(context);
  if (/\baccept\s+$/.test(line)) return acceptableCodes(context);
  const words = ['on', 'up to', 'down to', 'until', 'because'].filter(word => !line.includes(` ${word}`));
  return /\s$/.test(line) ? words.map(word => ({ label: word, type: 'keyword' })) : [];
}

/** What this plant is really told comes first; hazards and mistakes in the text can't be accepted. */
function acceptableCodes({ analysis }: CompletionContext): readonly Offer[] {
  const found = new Map(analysis.findings.filter(({ hazard }) => !hazard).map(finding => [finding.code, finding]));
  const acceptable = codes.filter(code => !textCodes.has(code));
  return acceptable
    .toSorted((a, b) => Number(found.has(b)) - Number(found.has(a)))
    .map(code => {
      const finding = found.get(code);
      return {
        label: code,
        type: 'code',
        ...(finding === undefined ? {} : { detail: finding.subject ?? '', markdown: finding.message }),
      };
    });
}

const keywords = ['part', 'catalogue', 'use', 'let', 'connect', 'case', 'require', 'accept'] as const;

function declarations(context: CompletionContext): readonly Offer[] {
  const whole = kinds.map((kind): Offer => {
    return { label: kind.name, type: 'snippet', text: kind.snippet.trimEnd(), snippet: true, detail: kind.meaning };
  });
  const ownParts = visibleParts(context).flatMap(({ written, declared: { declaration, path } }): readonly Offer[] => {
    if (declaration.type === 'let' || declaration.kind === undefined || declaration.kind.text === 'practice') return [];
    const kind = declaration.kind.text;
    const pick = declaration.type === 'catalogue' ? 'pick ' : '';
    const text = `${kind} \${1:TAG} is ${pick}${written}`;
    return [{ label: `${kind} is ${pick}${written}`, type: 'snippet', text, snippet: true, detail: path }];
  });
  return [...whole, ...ownParts, ...keywords.map((label): Offer => ({ label, type: 'keyword' }))];
}

function letsAndFunctions(property: Property | undefined, context: CompletionContext): readonly Offer[] {
  if (property !== undefined && property.type.is !== 'quantity') return [];
  const lets = visibleParts(context).filter(({ declared }) => declared.declaration.type === 'let');
  const functions = ['min', 'max', 'abs', 'sqrt'];
  return [
    ...lets.map(({ written, declared }): Offer => ({ label: written, type: 'value', detail: declared.path })),
    ...functions.map((label): Offer => ({ label, type: 'function', text: `${label}($1)`, snippet: true })),
  ];
}

function components({ path, tree }: CompletionContext): readonly Offer[] {
  return entitiesOf(path, tree)
    .filter(({ declaration }) => !['plant', 'duty', 'practice'].includes(declaration.kind.text))
    .map(({ declaration }) => ({
      label: declaration.name?.text ?? '',
      type: 'component',
      detail: declaration.kind.text,
    }));
}

function namesOf(kind: 'duty' | 'case', { path, tree, analysis }: CompletionContext): readonly Offer[] {
  if (kind === 'case') {
    return analysis.outline
      .filter(entry => entry.kind === 'case')
      .map(({ name }) => ({ label: name, type: 'component' }));
  }
  const duties = entitiesOf(path, tree).filter(({ declaration }) => declaration.kind.text === kind);
  return duties.map(({ declaration }) => ({ label: declaration.name?.text ?? '', type: 'component' }));
}

function kindWords(): readonly Offer[] {
  return kinds
    .filter(({ name }) => name !== 'plant')
    .map(({ name, meaning }) => ({ label: name, type: 'kind', detail: meaning }));
}

function kindOfTag(tag: string, { path, tree }: CompletionContext): Kind | undefined {
  const entity = entitiesOf(path, tree).find(({ declaration }) => declaration.name?.text === tag);
  return kindByName.get(entity?.declaration.kind.text ?? '');
}

function visibleParts({ path, tree, closure }: CompletionContext): readonly Visible[] {
  return visibleFrom(path, tree, closure).filter(({ written }) => !written.endsWith('.') && written !== '');
}
