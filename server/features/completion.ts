// Completion: what may stand at the cursor, the likeliest first. The grammar says where the cursor is.
import type { Analysis } from '../../engine/analysis.ts';
import { kindByName, kinds, propertyOf } from '../../engine/kinds/index.ts';
import type { Kind, Property } from '../../engine/kinds/kind.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import { contextAt, type Place } from '../../grammar/context.ts';
import { meaningOf } from '../render/words.ts';
import {
  acceptableCodes,
  cases,
  components,
  duties,
  functions,
  lets,
  partsFor,
  partsToStartFrom,
  results,
} from './completion-names.ts';
import { propertySnippet, unitsFor, unitsOfResult, valuesFor, wordsAfterValue } from './completion-values.ts';
import type { TreeContext } from './context.ts';
import { namesGiven, withFreeTag } from './free-tags.ts';
import { propertyMarkdown, typeInWords } from './property-text.ts';
import { entitiesOf, entityByTag } from './symbols.ts';

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

/** What may be chosen; `text` is what is written then, the label where it is not said. */
export interface Offer {
  readonly label: string;
  readonly type: CompletionType;
  readonly text?: string;
  /** `text` holds placeholders. */
  readonly snippet?: boolean;
  readonly detail?: string;
  readonly markdown?: string;
}

/** An offer with its place: it replaces the text from `start` to `end`, offsets in the file. */
export interface Completion extends Offer {
  readonly text: string;
  readonly snippet: boolean;
  readonly start: number;
  readonly end: number;
}

export interface CompletionContext extends TreeContext {
  /** Of this text, where `asksForResults` says so: most offers need none, and wait for none. */
  readonly analysis: Analysis | undefined;
  /** Paths of other files, relative to this one, that `use` could name. */
  readonly usable: readonly string[];
}

/** Whether what may stand there depends on what the plant comes to. */
export function asksForResults(tree: SourceTree, offset: number): boolean {
  const { place } = contextAt(tree, offset);
  switch (place.where) {
    case 'require':
      return place.path.length > 0;
    case 'unit':
      return place.kind === 'require' || place.kind === 'accept';
    default:
      return place.where === 'code';
  }
}

export function completion(context: CompletionContext, offset: number): readonly Completion[] {
  const { place, replace, placed } = contextAt(context.tree, offset);
  const before = context.tree.text.slice(placed?.start ?? 0, replace.start);
  // A unit is set off from its number.
  const gap = place.where === 'unit' && /[\d.]$/.test(before) ? ' ' : '';
  return offersAt(place, before, context).map(({ text, snippet = false, ...offer }) => {
    const known = { ...meaningOfWord(offer), ...offer };
    return { ...known, text: gap + (text ?? offer.label), snippet, start: replace.start, end: replace.end };
  });
}

/** As in a hover; of `down to` its first word. */
function meaningOfWord({ label, type }: Offer): Pick<Offer, 'markdown'> {
  const meaning = type === 'keyword' || type === 'function' ? meaningOf(label.split(' ')[0]!) : undefined;
  return meaning === undefined ? {} : { markdown: meaning };
}

/** `before` is the declaration as far as it is written. */
function offersAt(place: Place, before: string, context: CompletionContext): readonly Offer[] {
  switch (place.where) {
    case 'top':
      return declarations(context);
    case 'kind':
      return kinds.map(({ name, meaning }) => ({ label: name, type: 'kind', detail: meaning }));
    case 'head':
      return words(headWords[place.head] ?? ['is']);
    case 'base':
      return baseOffers(place, context);
    case 'property':
      return place.kind === 'case' ? restatable(place, context) : missingProperties(place.kind, place.present);
    case 'value':
      return valueOffers(place, before, context);
    case 'unit':
      return unitOffers(place, before, context);
    case 'connect':
      return place.afterArrow ? components(context) : [];
    case 'cases':
      return cases(context).filter(({ label }) => !place.taken.includes(label));
    case 'require':
      return requireOffers(place, before, context);
    case 'duty':
      return duties(context);
    case 'code':
      return acceptableCodes(context);
    case 'tag':
      return components(context);
    case 'accept':
      return words(
        ['on', 'up to', 'down to', 'until', 'because'].filter(word => !place.written.includes(word.split(' ')[0]!)),
      );
    case 'path':
      return context.usable.map(path => ({ label: path, type: 'file', text: place.quoted ? path : `"${path}"` }));
    default:
      return [];
  }
}

/** What may follow a name in a head, where it is not `is`. */
const headWords: Readonly<Record<string, readonly string[]>> = { catalogue: ['from'], use: ['as'], row: [] };

const beginnings = ['part', 'catalogue', 'use', 'let', 'connect', 'case', 'require', 'accept'];

function declarations(context: CompletionContext): readonly Offer[] {
  const taken = namesGiven(context.tree);
  const whole = kinds.map(({ name, snippet, meaning }): Offer => {
    return {
      label: name,
      type: 'snippet',
      text: withFreeTag(snippet.trimEnd(), taken),
      snippet: true,
      detail: meaning,
    };
  });
  // A file has one plant: once it stands there, it is the last thing that is wanted.
  const stands = entitiesOf(context.path, context.tree).some(({ declaration }) => declaration.kind.text === 'plant');
  const plant = whole.filter(({ label }) => stands && label === 'plant');
  const others = whole.filter(offer => !plant.includes(offer));
  return [...others, ...partsToStartFrom(context), ...words(beginnings), ...plant];
}

function baseOffers(place: Place & { where: 'base' }, context: CompletionContext): readonly Offer[] {
  const kind = kindByName.get(place.kind);
  if (kind === undefined) return [];
  const parts = partsFor(kind, place.path, context);
  if (place.pick || place.path.length > 0) return parts;
  return [...parts, { label: 'pick', type: 'keyword', detail: 'the smallest of a catalogue that holds' }];
}

/** Of what the block lacks, the required first; in the order of the kind's table otherwise. */
function missingProperties(kindName: string, present: readonly string[]): readonly Offer[] {
  const kind = kindByName.get(kindName);
  const rank: readonly Property['need'][] = ['required', 'expected', 'optional'];
  return (kind?.properties ?? [])
    .filter(({ name }) => !present.includes(name))
    .toSorted((a, b) => rank.indexOf(a.need) - rank.indexOf(b.need))
    .map(property => ({
      label: property.name,
      type: 'property',
      text: propertySnippet(property),
      snippet: true,
      detail: `${property.need === 'required' ? 'required: ' : ''}${typeInWords(property.type)}`,
      markdown: propertyMarkdown(property, kindName),
    }));
}

/** In a case: a tag, then what its kind has and the case doesn't restate yet. */
function restatable({ path, present }: Place & { where: 'property' }, context: CompletionContext): readonly Offer[] {
  const [tag] = path;
  if (tag === undefined) return components(context);
  const own = present.flatMap(each => (each.startsWith(`${tag}.`) ? [each.slice(tag.length + 1)] : []));
  return missingProperties(kindOfTag(tag, context)?.name ?? '', own);
}

function valueOffers(place: Place & { where: 'value' }, before: string, context: CompletionContext): readonly Offer[] {
  const property = propertyAt(place, context);
  const written = before.slice(before.lastIndexOf('=') + 1);
  if (place.complete)
    return property === undefined ? wordsAfterValue(undefined, written) : wordsAfterValue(property.type, written);
  if (property === undefined) return place.kind === 'let' ? [...lets(place.path, context), ...functions()] : [];
  const expression = property.type.is === 'quantity' ? [...lets(place.path, context), ...functions()] : [];
  return place.path.length > 0 ? expression : [...valuesFor(property, place.empty, context), ...expression];
}

function unitOffers(place: Place & { where: 'unit' }, before: string, context: CompletionContext): readonly Offer[] {
  if (place.kind === 'require' || place.kind === 'accept') return unitsOfResult(before, context);
  const property = propertyAt(place, context);
  return property === undefined ? [] : unitsFor(property.type, before);
}

function requireOffers(
  place: Place & { where: 'require' },
  before: string,
  context: CompletionContext,
): readonly Offer[] {
  const [tag] = place.path;
  if (tag !== undefined) return results(tag, context);
  if (!place.complete) return components(context);
  const line = before.slice(before.lastIndexOf('\n') + 1);
  return /[<>=≤≥≠]/.test(line)
    ? words(['during', 'because'].filter(word => !line.includes(word)))
    : words(['<=', '>=']);
}

/** The property whose value the cursor is in: `voltage` in a block, `B1.voltage` in a case. */
function propertyAt(
  { kind, property = '' }: { kind: string; property: string | undefined },
  context: CompletionContext,
): Property | undefined {
  if (kind !== 'case') return propertyIn(kindByName.get(kind), property);
  const [tag = '', name = ''] = property.split('.');
  return propertyIn(kindOfTag(tag, context), name);
}

function propertyIn(kind: Kind | undefined, name: string): Property | undefined {
  return kind && propertyOf(kind, name);
}

function kindOfTag(tag: string, { path, tree }: CompletionContext): Kind | undefined {
  return kindByName.get(entityByTag(path, tree, tag)?.declaration.kind.text ?? '');
}

function words(labels: readonly string[]): readonly Offer[] {
  return labels.map(label => ({ label, type: 'keyword' }));
}
