// Looks names up and lowers declarations to facts, each once, and only when somebody asks.
import type {
  BaseReference,
  EntityDeclaration,
  LetDeclaration,
  Property as PropertyNode,
  Span,
} from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import type { Kind, Property } from '../kinds/kind.ts';
import { evaluate } from './evaluate.ts';
import type { Evaluated } from './evaluated.ts';
import { askingAmong, type FactContext, type LoweredFacts, lowerProperties, lowerProperty, originOf } from './facts.ts';
import { type Asking, askedAgain, keepFacts, keptOf } from './kept-entities.ts';
import { Memory } from './kept-properties.ts';
import { type KnownResults, lookUp, lookUpReference, type NameUse } from './lookup.ts';
import { movedFacts } from './moved.ts';
import { describeName, namesIn, reportUnknown, rowPaths } from './names.ts';
import type { Fact } from './plant.ts';
import type { Report } from './report.ts';
import {
  type FileScope,
  find,
  findTemplate,
  type Placed,
  placeOf,
  type Scopes,
  type Template,
  templatePaths,
} from './scope.ts';

/** A `pick` of a value that nobody has made yet, or that was made for this analysis. */
export interface OpenPick {
  readonly place: Place;
  readonly property: Property;
}

const underWay = Symbol('under way');

/** Parts made from parts are followed this far: what needs more is no plant, and would exhaust the stack. */
const deepest = 100;

export class Lowerer {
  readonly report: Report;
  readonly root: FileScope;
  readonly results: KnownResults;
  private readonly scopes: Scopes;
  private readonly lets = new Map<LetDeclaration, Evaluated | undefined | typeof underWay>();
  private readonly properties = new Map<PropertyNode, Fact | undefined | typeof underWay>();
  private readonly entities = new Map<object, LoweredFacts>();
  private readonly templatesUnderWay: Template[] = [];
  private readonly texts = new Map<string, string>();
  readonly openPicks: OpenPick[] = [];
  private readonly chosen: ReadonlyMap<string, number>;

  constructor(
    root: FileScope,
    scopes: Scopes,
    report: Report,
    results: KnownResults,
    chosen: ReadonlyMap<string, number> = new Map(),
  ) {
    this.root = root;
    this.scopes = scopes;
    this.report = report;
    this.results = results;
    this.chosen = chosen;
  }

  /** The analysed file and all that it uses, directly or through others. */
  get files(): readonly FileScope[] {
    return this.scopes.files;
  }

  /** Whether the analysed file has text that could not be read, and could declare anything. */
  get hasUnreadText(): boolean {
    return this.root.unread.nameless || this.root.unread.words.size > 0;
  }

  text(place: Place): string {
    let text = this.texts.get(place.path);
    if (text === undefined) {
      text = this.scopes.files.find(scope => scope.path === place.path)?.tree.text ?? this.root.tree.text;
      this.texts.set(place.path, text);
    }
    return text.slice(place.start, place.end);
  }

  /** Own and inherited facts of a component or part, without what the tool assumes. */
  entity(scope: FileScope, placed: Placed<EntityDeclaration>, kind: Kind): LoweredFacts {
    const done = this.entities.get(placed.node);
    if (done !== undefined) return done;
    const known = this.again(scope, placed, kind);
    if (known !== undefined) {
      this.entities.set(placed.node, known);
      return known;
    }
    const { said } = this.report;
    const context = this.context(scope, placed, false);
    const own = lowerProperties(placed.node.properties, kind, context, (node, property) =>
      this.property(node, property, context),
    );
    const { inherited, lowered } = this.withInherited(own, scope, placed, kind);
    this.entities.set(placed.node, lowered);
    const sound = this.report.said === said && !placed.flawed && placed.doubts.length === 0;
    const complete = (placed.node.base === undefined) === (inherited === undefined);
    const asking = sound && complete ? this.askingAmong(placed.node.properties) : undefined;
    if (asking !== undefined) keepFacts(placed, { inherited, asking, lowered });
    return lowered;
  }

  /** What an earlier analysis made of the declaration, where it would come to the same. */
  private again(scope: FileScope, placed: Placed<EntityDeclaration>, kind: Kind): LoweredFacts | undefined {
    const kept = keptOf(placed);
    if (kept === undefined) return undefined;
    const before = kept.inherited;
    const inherited = placed.node.base === undefined ? undefined : this.inheritedAgain(scope, placed, kind);
    if ((inherited && originOf(inherited)) !== (before && originOf(before))) return undefined;
    const asking = this.askedAgain(kept.asking, scope, placed);
    if (asking === undefined) return undefined;
    const by = placed.start - kept.start;
    if (by === 0 && inherited === before && asking === kept.asking) return kept.lowered;
    const lowered = movedFacts(kept.lowered, by, (name, fact) => {
      return inherited === before ? fact : inheritedFact(inherited!.facts.get(name)!);
    });
    keepFacts(placed, { inherited, asking, lowered });
    return lowered;
  }

  /** Those of a declaration whose values name something, where they say the same. */
  askedAgain(asking: readonly Asking[], scope: FileScope, placed: Placed<unknown>): readonly Asking[] | undefined {
    if (asking.length === 0) return asking;
    const context = this.context(scope, placed, false);
    return askedAgain(asking, (node, property) => this.property(node, property, context));
  }

  /** What a declaration inherits whose facts are kept, so that its part could be made before; says nothing. */
  private inheritedAgain(scope: FileScope, { node }: Placed<EntityDeclaration>, kind: Kind): LoweredFacts | undefined {
    const path = node.base?.path.map(name => name.text) ?? [];
    const template = findTemplate(scope, path);
    if (template === undefined || this.templatesUnderWay.some(other => sameTemplate(other, template))) return undefined;
    this.templatesUnderWay.push(template);
    const inherited = this.templateFacts(template, kind);
    this.templatesUnderWay.pop();
    return inherited;
  }

  /** The template that an `is` names, when it fits; reports what is wrong with it. */
  template(scope: FileScope, placed: Placed<EntityDeclaration>, kind: Kind): Template | undefined {
    const base = placed.node.base;
    if (base === undefined || base.pick || base.path.length === 0 || this.isDoubtful(placed, base)) return undefined;
    const path = base.path.map(name => name.text);
    const written = path.join('.');
    const place = placeOf(placed, { start: base.path[0]!.start, end: base.path.at(-1)!.end });
    const template = findTemplate(scope, path);
    if (template === undefined) {
      this.reportNoTemplate(scope, path, place);
      return undefined;
    }
    const templateKind = template.type === 'part' ? template.part.node.kind.text : template.catalogue.node.kind?.text;
    if (templateKind === undefined || templateKind === kind.name) return template;
    this.report.add({
      code: 'wrong_value',
      place,
      message: `\`${written}\` is a ${templateKind}, not a ${kind.name}.`,
    });
    return undefined;
  }

  private reportNoTemplate(scope: FileScope, path: readonly string[], place: Place): void {
    const catalogue = find(scope, path, s => s.catalogues);
    // The rows of a catalogue in a file of its own are not known yet, which one note says.
    if (catalogue?.found.node.from !== undefined && catalogue.rest.length === 1) return;
    if (catalogue?.found.flawed === true || scope.entities.get(path[0]!)?.flawed === true) return;
    const written = path.join('.');
    const what = describeName(scope, path);
    if (what === undefined) {
      const message = `There is no part \`${written}\` here`;
      reportUnknown(this.report, { scope, path, place, message, candidates: templatePaths(scope), canBeUsed: true });
      return;
    }
    const [row] = rowPaths(scope, path);
    const hint = row === undefined ? 'only a part or a row of a catalogue' : `name one of its rows, such as \`${row}\``;
    const rest = row === undefined ? `; ${hint} can stand behind \`is\`.` : `: ${hint}.`;
    this.report.add({ code: 'wrong_value', place, message: `\`${written}\` is ${what}${rest}` });
  }

  /** Facts of a part, or of a catalogue's row, seen from whoever inherits them. */
  templateFacts(template: Template, kind: Kind): LoweredFacts {
    if (template.type === 'part') return this.entity(template.scope, template.part, kind);
    const known = this.entities.get(template.row);
    if (known !== undefined) return known;
    const source = template.catalogue.node.from?.value;
    const stated =
      source === undefined
        ? ({ class: 'stated', text: undefined } as const)
        : ({ class: 'sourced', text: source } as const);
    const context = { ...this.context(template.scope, template.catalogue, false), stated };
    const own = lowerProperties(template.row.properties, kind, context, (node, property) =>
      this.property(node, property, context),
    );
    const lowered = template.catalogue.flawed ? withUnread(own, kind) : own;
    this.entities.set(template.row, lowered);
    return lowered;
  }

  /** One property of a declaration, lowered once; a fact that needs itself is a cycle. */
  property(node: PropertyNode, property: Property, context: FactContext): Fact | undefined {
    const known = this.properties.get(node);
    if (known === underWay) {
      this.report.add({
        code: 'cycle',
        place: context.place(node.target[0] ?? node),
        message: `\`${property.name}\` depends on itself.`,
      });
      return undefined;
    }
    if (known !== undefined || this.properties.has(node)) return known;
    this.properties.set(node, underWay);
    const fact = lowerProperty(node, property, context);
    this.properties.set(node, fact);
    return fact;
  }

  /** Of properties that were lowered. */
  askingAmong(nodes: readonly PropertyNode[]): readonly Asking[] | undefined {
    return askingAmong(nodes, node => {
      const known = this.properties.get(node);
      return known === underWay ? undefined : known;
    });
  }

  /** Facts of a component of the analysed file, where they are known and `TAG.name` means these. */
  knownFacts(tag: string): LoweredFacts | undefined {
    const node = this.root.entities.get(tag)?.node;
    return node && !this.root.uses.some(({ alias }) => alias === tag) ? this.entities.get(node) : undefined;
  }

  context(scope: FileScope, placed: Placed<unknown>, inherited: boolean, use: NameUse = 'fact'): FactContext {
    return {
      report: this.report,
      place: span => placeOf(placed, span),
      lookup: (path, span) => lookUp({ scope, placed, lowerer: this }, path, span, use),
      reference: (expression, property) => lookUpReference({ scope, placed, lowerer: this }, expression, property),
      doubtful: span => this.isDoubtful(placed, span),
      text: place => this.text(place),
      inherited,
      pick: (place, property) => {
        this.openPicks.push({ place, property });
        return this.chosen.get(pickKey(place));
      },
      stated: { class: 'stated', text: undefined },
    };
  }

  letValue(scope: FileScope, placed: Placed<LetDeclaration>): Evaluated | undefined {
    const known = this.lets.get(placed.node);
    if (known === underWay) {
      this.report.add({
        code: 'cycle',
        place: placeOf(placed, placed.node.name ?? placed.node),
        message: `\`${placed.node.name?.text}\` depends on itself.`,
      });
      return undefined;
    }
    if (known !== undefined || this.lets.has(placed.node)) return known;
    this.lets.set(placed.node, underWay);
    const value =
      placed.node.value === undefined || this.isDoubtful(placed, placed.node)
        ? undefined
        : keptLets.recallOrMake(placed.node.value, this.context(scope, placed, false), asking =>
            evaluate(placed.node.value!, asking),
          );
    this.lets.set(placed.node, value);
    return value;
  }

  private withInherited(
    own: LoweredFacts,
    scope: FileScope,
    placed: Placed<EntityDeclaration>,
    kind: Kind,
  ): { readonly inherited: LoweredFacts | undefined; readonly lowered: LoweredFacts } {
    const base = placed.node.base;
    const none = (lowered: LoweredFacts) => ({ inherited: undefined, lowered });
    if (base === undefined) return none(placed.flawed ? withUnread(own, kind) : own);
    if (base.pick) this.reportOpenPart(scope, placed, base, kind);
    const template = this.template(scope, placed, kind);
    if (template === undefined) return none(allFailed(own, kind));
    if (this.templatesUnderWay.some(other => sameTemplate(other, template))) {
      this.report.add({
        code: 'cycle',
        place: placeOf(placed, base),
        message: 'This part is made from itself, in a circle.',
      });
      return none(allFailed(own, kind));
    }
    if (this.templatesUnderWay.length >= deepest) {
      const message = `This leads through more than ${deepest} parts, each made from the next.`;
      this.report.add({ code: 'wrong_value', place: placeOf(placed, base), message });
      return none(allFailed(own, kind));
    }
    this.templatesUnderWay.push(template);
    const inherited = this.templateFacts(template, kind);
    this.templatesUnderWay.pop();
    const facts = new Map<string, Fact>();
    for (const [name, fact] of inherited.facts) if (!own.failed.has(name)) facts.set(name, inheritedFact(fact));
    for (const [name, fact] of own.facts) facts.set(name, fact);
    const failed = new Set([...own.failed, ...[...inherited.failed].filter(name => !own.facts.has(name))]);
    const lowered = { facts, failed };
    return { inherited, lowered: placed.flawed ? withUnread(lowered, kind) : lowered };
  }

  /** `is pick Catalogue`: the catalogue is looked up, the choice is not made yet. */
  private reportOpenPart(scope: FileScope, placed: Placed<EntityDeclaration>, base: BaseReference, kind: Kind): void {
    const path = base.path.map(name => name.text);
    if (path.length === 0 || this.isDoubtful(placed, base)) return;
    const place = placeOf(placed, { start: base.path[0]!.start, end: base.end });
    const catalogue = find(scope, path, s => s.catalogues);
    if (catalogue === undefined || catalogue.rest.length > 0) {
      const what = describeName(scope, path);
      const written = path.join('.');
      if (what === undefined)
        reportUnknown(this.report, {
          scope,
          path,
          place,
          message: `There is no catalogue \`${written}\` here`,
          candidates: namesIn(scope, s => s.catalogues),
          canBeUsed: true,
        });
      else
        this.report.add({
          code: 'wrong_value',
          place,
          message: `\`${written}\` is ${what}; a part is picked from a catalogue.`,
        });
      return;
    }
    const catalogueKind = catalogue.found.node.kind?.text;
    if (catalogueKind !== undefined && catalogueKind !== kind.name) {
      const message = `\`${path.join('.')}\` is a catalogue of the kind ${catalogueKind}, not ${kind.name}.`;
      this.report.add({ code: 'wrong_value', place, message });
      return;
    }
    this.report.add({
      code: 'not_evaluated',
      severity: 'note',
      place: placeOf(placed, base),
      subject: placed.node.name?.text,
      message:
        'Picking a part from a catalogue is read but not evaluated yet: name the row, and what it lacks will show.',
    });
  }

  /** Whether text inside the span, or behind it up to the next comma, brace or line end, could not be read with certainty. */
  private isDoubtful(placed: Placed<unknown>, span: Span): boolean {
    return placed.doubts.some(
      ({ start }) =>
        start >= span.start &&
        (start < span.end || !/[\n,{]/.test(this.text(placeOf(placed, { start: span.end, end: start })))),
    );
  }
}

const keptLets = new Memory<FactContext, Evaluated>();

const inheritedFacts = new WeakMap<Fact, Fact>();

/** The same fact as whoever is made from the part has it. */
function inheritedFact(fact: Fact): Fact {
  if (fact.inherited) return fact;
  const known = inheritedFacts.get(fact);
  if (known !== undefined) return known;
  const inherited = { ...fact, inherited: true };
  inheritedFacts.set(fact, inherited);
  return inherited;
}

/** Nothing is known of what is not stated: where it would come from could not be understood. */
function allFailed({ facts, failed }: LoweredFacts, kind: Kind): LoweredFacts {
  const names = kind.properties.map(property => property.name).filter(name => !facts.has(name));
  return { facts, failed: new Set([...failed, ...names]) };
}

/** A block that was not read in full may state what seems to be missing. */
function withUnread({ facts, failed }: LoweredFacts, kind: Kind): LoweredFacts {
  const needed = kind.properties.filter(({ need, fallback }) => need !== 'optional' && fallback === undefined);
  const names = [...needed.map(property => property.name), ...(kind.oneOf ?? []).flat()];
  return { facts, failed: new Set([...failed, ...names.filter(name => !facts.has(name))]) };
}

/** Names the place of a pick across lowerings of the same text. */
export function pickKey(place: Place): string {
  return `${place.path}:${place.start}`;
}

function sameTemplate(a: Template, b: Template): boolean {
  return a.type === 'part' ? b.type === 'part' && a.part.node === b.part.node : b.type === 'row' && a.row === b.row;
}
