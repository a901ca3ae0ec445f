// Hover: what a word or number at a place means, where it came from, and how the numbers around it came about.
import type { ValueRow, WorkspacePath } from '../../engine/analysis.ts';
import { codes } from '../../engine/checks/codes.ts';
import { documentationOf } from '../../engine/checks/documentation.ts';
import type { Finding } from '../../engine/finding.ts';
import { kindByName, propertyOf } from '../../engine/kinds/index.ts';
import { dimensions } from '../../engine/units/dimension.ts';
import { readUnit, toSI } from '../../engine/units/read.ts';
import { showNumber } from '../../engine/units/show.ts';
import type { Expression, NumberLiteral, Property, Span, UnitText } from '../../grammar/ast.ts';
import { findingPage } from '../render/reference.ts';
import { caseMarkdown } from './case-text.ts';
import type { FileContext } from './context.ts';
import { foremostOf, lookThrough } from './foremost-results.ts';
import { aboutAlias, aboutWord } from './hover-words.ts';
import { locate, type Owner, type Spot, type Thing } from './locate.ts';
import { codeSpan, derivationMarkdown, escapeMarkdown } from './markdown.ts';
import { propertyMarkdown } from './property-text.ts';
import { entityByTag, type Visible, visibleFrom } from './symbols.ts';

export interface Hover {
  /** Offsets in the file. */
  readonly start: number;
  readonly end: number;
  readonly markdown: string;
}

export function hover(context: FileContext, offset: number): Hover | undefined {
  const spot = locate(context.tree, offset);
  const findings = context.analysis.findings.filter(({ place }) => {
    return place.path === context.path && place.start <= offset && offset <= place.end;
  });
  const thing = spot && aboutThing(spot, context);
  const word = thing === undefined ? aboutWord(context, offset) : undefined;
  const about = thing ?? (word && withPage(word.markdown, 'words.md', context));
  // How the number came about is what people hover for; the property's own text can wait below.
  const parts = [...findings.map(finding => aboutFinding(finding, context)), about].filter(Boolean);
  if (parts.length === 0) return undefined;
  const { start, end } = word ?? spot ?? findings[0]!.place;
  return { start, end, markdown: parts.join('\n\n---\n\n') };
}

/** The editor shows the sentence itself; this adds how its number came about. */
function aboutFinding({ value, limit, point, source }: Finding, { analysis, link }: FileContext): string | undefined {
  if (value?.name === undefined) return undefined;
  const derivation = analysis.values.explain({ name: value.name, point });
  if (derivation === undefined) return undefined;
  const allowed =
    limit && `Limit: ${escapeMarkdown(limit.display)}${source ? `, after ${escapeMarkdown(source)}` : ''}`;
  return [derivationMarkdown(derivation, link), allowed].filter(Boolean).join('\n\n');
}

function aboutThing({ thing, chunk }: Spot, context: FileContext): string | undefined {
  switch (thing.type) {
    case 'kind':
      return aboutKind(thing.word, context);
    case 'declared':
      return aboutComponent(thing.name, context) ?? aboutVisible(thing.name, context);
    case 'tag':
      return aboutComponent(thing.name, context);
    case 'case':
      return caseMarkdown(thing.name, context.tree);
    case 'code':
      return aboutCode(thing.word, context);
    case 'property':
      return aboutProperty(thing, chunk, context);
    case 'row':
      return aboutRow(thing.path, context);
    case 'axis':
      return thing.within.type === 'property' ? aboutProperty(thing.within, chunk, context) : undefined;
    case 'number':
      return aboutNumber(thing, chunk, context);
    case 'reference':
      return aboutReference(thing, chunk, context);
  }
}

function aboutKind(word: string, context: FileContext): string | undefined {
  const kind = kindByName.get(word);
  if (kind === undefined) return undefined;
  const about = `**${kind.name}**: ${escapeMarkdown(kind.meaning)}`;
  return withPage(about, `kinds/${kind.name}.md`, context);
}

/** In an `accept`: what is accepted, and what its limit rests on. */
function aboutCode(word: string, context: FileContext): string | undefined {
  const code = codes.find(one => one === word);
  if (code === undefined) return undefined;
  const { title, source } = documentationOf(code);
  const about = `**${escapeMarkdown(code)}**: ${escapeMarkdown(title)}\n\nWhere the limit comes from: ${escapeMarkdown(source)}`;
  return withPage(about, findingPage(code), context);
}

/** The way on to the reference, where the editor can show it. */
function withPage(text: string, page: string, context: FileContext): string {
  const target = context.page?.(page);
  return target === undefined ? text : `${text}\n\n[Reference](${target})`;
}

function aboutComponent(tag: string, context: FileContext): string | undefined {
  const entity = entityByTag(context.path, context.tree, tag);
  if (entity === undefined) return undefined;
  const { kind, base, doc } = entity.declaration;
  const is = base === undefined ? '' : ` is ${base.pick ? 'pick ' : ''}${base.path.map(name => name.text).join('.')}`;
  const { values } = context.analysis;
  const foremost = foremostOf(tag, kind.text, values);
  const { names, room } = foremost;
  const looked = [...lookThrough(foremost, values)];
  const shown = [...looked.filter(isKnown), ...looked.filter(row => !isKnown(row))].slice(0, room);
  const rows = shown.map(({ name, display }) => {
    const target = context.link(name);
    const written = escapeMarkdown(name);
    return `- ${target === undefined ? written : `[${written}](${target})`} = ${escapeMarkdown(display)}`;
  });
  const more = names.length > room ? `\n- and ${names.length - room} more` : '';
  const open = kind.text === 'plant' ? context.analysis.notChecked.map(words => `\n- ${escapeMarkdown(words)}`) : [];
  const unchecked = open.length === 0 ? '' : `Not checked:\n${open.join('')}`;
  return [
    `**${escapeMarkdown(`${kind.text} ${tag}${is}`)}**`,
    doc && escapeMarkdown(doc),
    rows.join('\n') + more,
    unchecked,
  ]
    .filter(Boolean)
    .join('\n\n');
}

const isKnown = ({ value }: ValueRow): boolean => value !== undefined;

/** A part, a catalogue, a practice or a let. */
function aboutVisible(written: string, { path, tree, closure }: FileContext): string | undefined {
  const visible = visibleFrom(path, tree, closure).find(one => one.written === written);
  if (visible === undefined) return undefined;
  const { declaration } = visible.declared;
  return asWritten(visible, declaration, path, closure);
}

/** `range.AirCooled.kva550`: one row of a catalogue. */
function aboutRow(written: string, { path, tree, closure }: FileContext): string | undefined {
  const [catalogue, name] = [written.slice(0, written.lastIndexOf('.')), written.slice(written.lastIndexOf('.') + 1)];
  const visible = visibleFrom(path, tree, closure).find(one => one.written === catalogue);
  if (visible?.declared.declaration.type !== 'catalogue') return undefined;
  const row = visible.declared.declaration.rows.find(one => one.name.text === name);
  return row && asWritten(visible, row, path, closure);
}

/** The first line of what is declared, where that is, and what its author says of it. */
function asWritten(
  { declared }: Visible,
  { start, end, doc }: Span & { readonly doc: string | undefined },
  from: WorkspacePath,
  closure: FileContext['closure'],
): string {
  const state = closure.snapshot.files.get(declared.path);
  const text = state?.state === 'text' ? state.tree.text.slice(declared.start + start, declared.start + end) : '';
  const [first = ''] = text.split('\n');
  const where = declared.path === from ? '' : ` in ${escapeMarkdown(declared.path)}`;
  const heading = `${codeSpan(first.replace(/\s*\{\s*$/, ''))}${where}`;
  return [heading, doc && escapeMarkdown(doc)].filter(Boolean).join('\n\n');
}

interface Named {
  readonly name: string;
  readonly owner: Owner;
  readonly property: Property;
}

/** `chunk` is where the text of its declaration begins. */
function aboutProperty(named: Named, chunk: number, context: FileContext): string | undefined {
  const { name, owner, property } = named;
  const kindName = 'kind' in owner ? owner.kind : kindOfTag(owner.tag, context);
  const kind = kindName === undefined ? undefined : kindByName.get(kindName);
  const known = kind && propertyOf(kind, name);
  if (kind === undefined || known === undefined) return undefined;
  const parts = [
    propertyMarkdown(known, kind.name),
    property.doc && escapeMarkdown(property.doc),
    workedOut(named, chunk, context),
    originOf(property),
  ];
  return withPage(parts.filter(Boolean).join('\n\n'), `kinds/${kind.name}.md`, context);
}

/** What the text alone does not say: the ends of a tolerance, what an expression comes to. */
function workedOut(
  { name, owner, property: { value } }: Named,
  chunk: number,
  context: FileContext,
): string | undefined {
  if (value === undefined || plain.has(value.type)) return undefined;
  const subject = subjectOf(owner);
  const rows = subject === undefined ? [] : context.analysis.facts({ subject, property: name });
  const row = rows.find(({ place }) => place?.path === context.path && place.start === chunk + value.start);
  const written = context.tree.text.slice(chunk + value.start, chunk + value.end);
  return row && row.display !== written ? `Value: ${escapeMarkdown(row.display)}` : undefined;
}

/** Of a row in a catalogue nothing is worked out. */
function subjectOf(owner: Owner): string | undefined {
  if ('tag' in owner) return owner.tag;
  return owner.declaration.type === 'entity' ? owner.declaration.name?.text : undefined;
}

const plain: ReadonlySet<Expression['type']> = new Set(['number', 'range', 'string', 'curve']);

function originOf({ provenance }: Property): string {
  if (provenance === undefined) return 'Stated here, without a source.';
  const text = provenance.text === undefined ? '' : `: ${escapeMarkdown(provenance.text)}`;
  return provenance.word === 'from' ? `Stated with its source${text}.` : `Assumed by the author${text}.`;
}

function kindOfTag(tag: string, { path, tree }: FileContext): string | undefined {
  return entityByTag(path, tree, tag)?.declaration.kind.text;
}

/** A number without a unit says nothing by itself: there its property is told. */
function aboutNumber(
  { literal, within }: Thing & { type: 'number' },
  chunk: number,
  context: FileContext,
): string | undefined {
  const { unit } = literal;
  if (unit === undefined) return within.type === 'property' ? aboutProperty(within, chunk, context) : undefined;
  const measures = whatMeasures(literal, unit);
  const value = within.type === 'property' && isPartOf(literal, within) ? workedOut(within, chunk, context) : undefined;
  return measures && withPage([measures, value].filter(Boolean).join('\n\n'), 'units.md', context);
}

/** Not of a clause behind the value. */
function isPartOf({ start, end }: Span, { property: { value } }: Named): boolean {
  return value !== undefined && value.start <= start && end <= value.end;
}

function whatMeasures(literal: NumberLiteral, unit: UnitText): string | undefined {
  const reading = readUnit(unit.text);
  if (!reading.ok) return undefined;
  const { dimension } = reading.unit;
  const si = `${showNumber(toSI(literal.value, reading.unit), 6)} ${siUnit(reading.unit.dimension)}`.trimEnd();
  const written = `${literal.value} ${unit.text}`;
  const elsewhere = si === written ? '' : `: ${escapeMarkdown(si)}`;
  return `${escapeMarkdown(written)} is ${escapeMarkdown(dimension.phrase)}${elsewhere}`;
}

/** Kelvin for a temperature: inside, the scale begins at absolute zero. */
function siUnit(dimension: { readonly unit: string }): string {
  return dimension === dimensions.temperature ? 'K' : dimension.unit;
}

function aboutReference(
  { path, index, within }: Thing & { type: 'reference' },
  chunk: number,
  context: FileContext,
): string | undefined {
  const [head = '', name] = path;
  if (within.type === 'property' && path.length === 1 && isChoice(within.name, within.owner, head, context))
    return aboutProperty(within, chunk, context);
  if (index === 0) return aboutComponent(head, context) ?? aboutVisible(head, context) ?? aboutAlias(head, context);
  if (name === undefined) return undefined;
  const row = context.analysis.values.worst(`${head}.${name}`);
  const derivation = row && context.analysis.values.explain({ name: row.name, point: row.point });
  const kind = kindByName.get(kindOfTag(head, context) ?? '');
  if (derivation !== undefined) {
    const shown = derivationMarkdown(derivation, context.link);
    return kind === undefined ? shown : withPage(shown, `results/${kind.name}.md`, context);
  }
  const property = kind && propertyOf(kind, name);
  if (kind && property) return propertyMarkdown(property, kind.name);
  const written = path.slice(0, index + 1).join('.');
  return aboutVisible(written, context) ?? aboutRow(written, context);
}

function isChoice(name: string, owner: Owner, word: string, context: FileContext): boolean {
  const kind = kindByName.get(('kind' in owner ? owner.kind : kindOfTag(owner.tag, context)) ?? '');
  const type = kind && propertyOf(kind, name)?.type;
  return type?.is === 'choice' && type.choices.includes(word);
}
