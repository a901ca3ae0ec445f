// Looks names up and lowers declarations to facts, each once, and only when somebody asks.
import type {
  EntityDeclaration,
  Expression,
  LetDeclaration,
  Name,
  Property as PropertyNode,
  Span,
} from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import { kindByName } from '../kinds/index.ts';
import type { Kind, KindName, Property } from '../kinds/kind.ts';
import type { Dimension } from '../units/dimension.ts';
import { evaluate } from './evaluate.ts';
import { type Evaluated, spreadNumber } from './evaluated.ts';
import { asEvaluated } from './fact-evaluation.ts';
import { type FactContext, fallbackFact, type LoweredFacts, lowerProperties, lowerProperty } from './facts.ts';
import { nearest } from './nearest.ts';
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

/** Dimension of a kind's result, for requirements; undefined where there is none of that name. */
export type ResultDimension = (kind: KindName, name: string) => Dimension | undefined;

/** A `pick` of a value that nobody has made yet, or that was made for this analysis. */
export interface OpenPick {
  readonly place: Place;
  readonly property: Property;
}

/** What `TAG.name` may mean beyond a fact. */
type NameUse = 'fact' | 'requirement';

const underWay = Symbol('under way');

export class Lowerer {
  readonly report: Report;
  readonly root: FileScope;
  readonly resultDimension: ResultDimension;
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
    resultDimension: ResultDimension,
    chosen: ReadonlyMap<string, number> = new Map(),
  ) {
    this.root = root;
    this.scopes = scopes;
    this.report = report;
    this.resultDimension = resultDimension;
    this.chosen = chosen;
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
    const known = this.entities.get(placed.node);
    if (known !== undefined) return known;
    const context = this.context(scope, placed, false);
    const own = lowerProperties(placed.node.properties, kind, context, (node, property) =>
      this.property(node, property, context),
    );
    const lowered = this.withInherited(own, scope, placed, kind);
    this.entities.set(placed.node, lowered);
    return lowered;
  }

  /** The template that an `is` names, when it fits; reports what is wrong with it. */
  template(scope: FileScope, placed: Placed<EntityDeclaration>, kind: Kind): Template | undefined {
    const base = placed.node.base;
    if (base === undefined || base.pick || base.path.length === 0) return undefined;
    const path = base.path.map(name => name.text);
    const written = path.join('.');
    const place = placeOf(placed, { start: base.path[0]!.start, end: base.path.at(-1)!.end });
    const template = findTemplate(scope, path);
    if (template === undefined) {
      const near = nearest(written, templatePaths(scope));
      this.report.add({
        code: 'unknown_name',
        place,
        message: `There is no part \`${written}\` here${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
        fixes:
          near === undefined ? [] : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place, text: near }] }],
      });
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
    const lowered = lowerProperties(template.row.properties, kind, context, (node, property) =>
      this.property(node, property, context),
    );
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

  context(scope: FileScope, placed: Placed<unknown>, inherited: boolean, use: NameUse = 'fact'): FactContext {
    return {
      report: this.report,
      place: span => placeOf(placed, span),
      lookup: (path, span) => this.lookup(scope, placed, path, span, use),
      reference: (expression, property) => this.reference(scope, placed, expression, property),
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
      placed.node.value === undefined ? undefined : evaluate(placed.node.value, this.context(scope, placed, false));
    this.lets.set(placed.node, value);
    return value;
  }

  private withInherited(
    own: LoweredFacts,
    scope: FileScope,
    placed: Placed<EntityDeclaration>,
    kind: Kind,
  ): LoweredFacts {
    const base = placed.node.base;
    if (base?.pick === true) {
      this.report.add({
        code: 'not_evaluated',
        severity: 'note',
        place: placeOf(placed, base),
        subject: placed.node.name?.text,
        message:
          'Picking a part from a catalogue is read but not evaluated yet: name the row, and what it lacks will show.',
      });
      const failed = new Set(kind.properties.map(property => property.name).filter(name => !own.facts.has(name)));
      return { facts: own.facts, failed };
    }
    const template = this.template(scope, placed, kind);
    if (template === undefined) {
      if (base === undefined) return own;
      return {
        facts: own.facts,
        failed: new Set(kind.properties.map(property => property.name).filter(name => !own.facts.has(name))),
      };
    }
    if (this.templatesUnderWay.some(other => sameTemplate(other, template))) {
      this.report.add({
        code: 'cycle',
        place: placeOf(placed, base!),
        message: 'This part is made from itself, in a circle.',
      });
      return own;
    }
    this.templatesUnderWay.push(template);
    const inherited = this.templateFacts(template, kind);
    this.templatesUnderWay.pop();
    const facts = new Map<string, Fact>();
    for (const [name, fact] of inherited.facts)
      if (!own.failed.has(name)) facts.set(name, { ...fact, inherited: true });
    for (const [name, fact] of own.facts) facts.set(name, fact);
    const failed = new Set([...own.failed, ...[...inherited.failed].filter(name => !own.facts.has(name))]);
    return { facts, failed };
  }

  private lookup(
    scope: FileScope,
    placed: Placed<unknown>,
    path: readonly Name[],
    span: Span,
    use: NameUse,
  ): Evaluated | undefined {
    const words = path.map(name => name.text);
    const found = find(scope, words, s => s.lets);
    if (found !== undefined && found.rest.length === 0) return this.letValue(found.scope, found.found);
    const entity = words.length === 2 ? scope.entities.get(words[0]!) : undefined;
    if (entity !== undefined) return this.entityValue(scope, placed, entity, path[1]!, use);
    const place = placeOf(placed, span);
    const names = [
      ...scope.lets.keys(),
      ...scope.uses.filter(used => used.alias === undefined).flatMap(used => [...used.scope.lets.keys()]),
    ];
    const tags = [...scope.entities.keys()];
    const near = words.length === 1 ? nearest(words[0]!, names) : nearest(words[0]!, tags);
    const hint = near === undefined ? '' : `: did you mean \`${[near, ...words.slice(1)].join('.')}\`?`;
    const loneTag = words.length === 1 && scope.entities.has(words[0]!);
    this.report.add({
      code: 'unknown_name',
      place,
      message: loneTag
        ? `\`${words[0]}\` is a component; a number is one of its facts, such as \`${words[0]}.voltage\`.`
        : `Nothing here is named \`${words.join('.')}\`${hint || '.'}`,
      fixes:
        near === undefined
          ? []
          : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place: placeOf(placed, path[0]!), text: near }] }],
    });
    return undefined;
  }

  private entityValue(
    scope: FileScope,
    placed: Placed<unknown>,
    entity: Placed<EntityDeclaration>,
    name: Name,
    use: NameUse,
  ): Evaluated | undefined {
    const kind = kindByName.get(entity.node.kind.text);
    if (kind === undefined) return undefined;
    const tag = entity.node.name!.text;
    const property = kind.properties.find(candidate => candidate.name === name.text);
    if (property !== undefined) return this.factValue(scope, placed, entity, kind, property, name);
    const dimension = this.resultDimension(kind.name, name.text);
    const place = placeOf(placed, name);
    if (dimension === undefined) {
      const near = nearest(
        name.text,
        kind.properties.map(candidate => candidate.name),
      );
      this.report.add({
        code: 'unknown_property',
        place,
        message: `${tag}, a ${kind.name}, has no \`${name.text}\`${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
        fixes:
          near === undefined ? [] : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place, text: near }] }],
      });
      return undefined;
    }
    if (use === 'requirement')
      return spreadNumber(
        { form: 'range', low: 1, nominal: 1, high: 1, result: { tag, name: name.text } },
        dimension,
        undefined,
      );
    this.report.add({
      code: 'wrong_value',
      place,
      message: `\`${tag}.${name.text}\` is a result; facts are made from facts, and results are read in \`require\` only.`,
    });
    return undefined;
  }

  private factValue(
    scope: FileScope,
    placed: Placed<unknown>,
    entity: Placed<EntityDeclaration>,
    kind: Kind,
    property: Property,
    name: Name,
  ): Evaluated | undefined {
    const own = entity.node.properties.find(node => node.target.length === 1 && node.target[0]!.text === property.name);
    const fact =
      own === undefined
        ? this.inheritedFact(scope, entity, kind, property)
        : this.property(own, property, this.context(scope, entity, false));
    if (own !== undefined && fact === undefined) return undefined;
    if (fact === undefined) {
      this.report.add({
        code: 'unknown_name',
        place: placeOf(placed, name),
        message: `${entity.node.name!.text} states no \`${property.name}\`.`,
      });
      return undefined;
    }
    return asEvaluated(fact);
  }

  private inheritedFact(
    scope: FileScope,
    entity: Placed<EntityDeclaration>,
    kind: Kind,
    property: Property,
  ): Fact | undefined {
    const template = this.template(scope, entity, kind);
    const inherited = template === undefined ? undefined : this.templateFacts(template, kind).facts.get(property.name);
    return inherited ?? fallbackFact(property);
  }

  private reference(
    scope: FileScope,
    placed: Placed<unknown>,
    expression: Expression,
    property: Property,
  ): string | undefined {
    const kinds = property.type.is === 'reference' ? property.type.kinds : [];
    const words = expression.type === 'reference' ? expression.path.map(name => name.text) : [];
    const place = placeOf(placed, expression);
    if (kinds.includes('practice')) {
      if (words.length > 0 && find(scope, words, s => s.practices)?.rest.length === 0) return words.join('.');
    } else if (words.length === 1) {
      const entity = scope.entities.get(words[0]!);
      if (entity !== undefined && kinds.some(kind => kind === entity.node.kind.text)) return words[0];
      if (entity !== undefined) {
        this.report.add({
          code: 'wrong_value',
          place,
          message: `\`${words[0]}\` is a ${entity.node.kind.text}; \`${property.name}\` names ${kinds.join(' or ')}.`,
        });
        return undefined;
      }
    }
    const candidates = kinds.includes('practice')
      ? scope.uses.flatMap(use => [...use.scope.practices.keys()])
      : [...scope.entities.keys()];
    const near = words.length === 1 ? nearest(words[0]!, candidates) : undefined;
    this.report.add({
      code: words.length === 0 ? 'wrong_value' : 'unknown_name',
      place,
      message: `\`${property.name}\` names a ${kinds.join(' or ')} of this plant, such as \`${property.example}\`${near === undefined ? '' : `; did you mean \`${near}\`?`}${near === undefined ? '.' : ''}`,
      fixes: near === undefined ? [] : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place, text: near }] }],
    });
    return undefined;
  }
}

/** Names the place of a pick across lowerings of the same text. */
export function pickKey(place: Place): string {
  return `${place.path}:${place.start}`;
}

function sameTemplate(a: Template, b: Template): boolean {
  return a.type === 'part' ? b.type === 'part' && a.part.node === b.part.node : b.type === 'row' && a.row === b.row;
}
