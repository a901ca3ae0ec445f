// Which way a rule goes by its next token: what each way may begin with, worked out once for each rule.
//
// The library's own strategy looks any number of tokens ahead and works the paths out anew for every place that asks,
// which took a third of the start of a command. Its checks of the grammar are kept, and run in a test.
import {
  Alternation,
  type IProduction,
  type IToken,
  LLkLookaheadStrategy,
  NonTerminal,
  Option,
  Repetition,
  RepetitionMandatory,
  RepetitionMandatoryWithSeparator,
  RepetitionWithSeparator,
  type Rule,
  Terminal,
  type TokenType,
} from 'chevrotain';

/** A parser as lookahead functions are called on it: with the token that many places ahead. */
interface Looking {
  LA(howMuch: number): IToken;
}

/** What a production may begin with, and whether it may be nothing at all. */
interface Beginning {
  readonly tokens: readonly TokenType[];
  readonly canBeEmpty: boolean;
}

const nothing: Beginning = { tokens: [], canBeEmpty: true };

type ForAlternation = Parameters<InstanceType<typeof LLkLookaheadStrategy>['buildLookaheadForAlternation']>[0];
type ForOptional = Parameters<InstanceType<typeof LLkLookaheadStrategy>['buildLookaheadForOptional']>[0];

/**
 * One token ahead; the first of several alternatives that fit is taken. Where a rule asks for more, or has conditions, the
 * library’s own strategy looks.
 */
export class OneTokenAhead extends LLkLookaheadStrategy {
  private readonly beginnings = new Map<IProduction, Beginning>();
  private readonly places = new Map<Rule, ReadonlyMap<string, IProduction>>();

  constructor() {
    super({ maxLookahead: 1 });
  }

  override buildLookaheadForAlternation(options: ForAlternation) {
    if (options.hasPredicates || options.maxLookahead > 1) return super.buildLookaheadForAlternation(options);
    const choices: number[] = [];
    let otherwise: number | undefined;
    const { definition } = this.place(options.rule, 'Alternation', options.prodOccurrence) as Alternation;
    for (const [index, alternative] of definition.entries()) {
      const { tokens, canBeEmpty } = this.beginning(alternative);
      for (const token of tokens) for (const kind of kindsOf(token)) choices[kind] ??= index;
      if (!canBeEmpty) continue;
      otherwise = index;
      break;
    }
    return function (this: Looking): number | undefined {
      return choices[this.LA(1).tokenTypeIdx] ?? otherwise;
    };
  }

  override buildLookaheadForOptional(options: ForOptional) {
    if (options.maxLookahead > 1) return super.buildLookaheadForOptional(options);
    const { rule, prodType, prodOccurrence } = options;
    const { tokens, canBeEmpty } = this.beginningOfAll(this.place(rule, prodType, prodOccurrence).definition);
    if (canBeEmpty) return () => true;
    const fits: boolean[] = [];
    for (const token of tokens) for (const kind of kindsOf(token)) fits[kind] = true;
    return function (this: Looking): boolean {
      return fits[this.LA(1).tokenTypeIdx] === true;
    };
  }

  private place(rule: Rule, kind: string, occurrence: number): Inner {
    let places = this.places.get(rule);
    if (places === undefined) {
      places = new Map(innerOf(rule.definition).map(inner => [`${kindOf(inner)} ${inner.idx}`, inner]));
      this.places.set(rule, places);
    }
    const found = places.get(`${kind} ${occurrence}`);
    if (found === undefined) throw new Error(`the rule ${rule.name} has no ${kind} ${occurrence}`);
    return found as Inner;
  }

  private beginning(production: IProduction): Beginning {
    const known = this.beginnings.get(production);
    if (known !== undefined) return known;
    // Nothing begins with itself: the library's checks rule that out.
    const found = this.findBeginning(production);
    this.beginnings.set(production, found);
    return found;
  }

  private findBeginning(production: IProduction): Beginning {
    if (production instanceof Terminal) return { tokens: [production.terminalType], canBeEmpty: false };
    if (production instanceof NonTerminal) return this.beginning(production.referencedRule);
    const { definition } = production as Inner;
    if (production instanceof Alternation) {
      const all = definition.map(alternative => this.beginning(alternative));
      return { tokens: all.flatMap(({ tokens }) => tokens), canBeEmpty: all.some(({ canBeEmpty }) => canBeEmpty) };
    }
    const inside = this.beginningOfAll(definition);
    const mayBeLeftOut =
      production instanceof Option || production instanceof Repetition || production instanceof RepetitionWithSeparator;
    return mayBeLeftOut ? { ...inside, canBeEmpty: true } : inside;
  }

  /** Of productions one behind the other. */
  private beginningOfAll(definition: readonly IProduction[]): Beginning {
    let all = nothing;
    for (const production of definition) {
      const { tokens, canBeEmpty } = this.beginning(production);
      all = { tokens: [...all.tokens, ...tokens], canBeEmpty };
      if (!canBeEmpty) break;
    }
    return all;
  }
}

type Inner = IProduction & { readonly definition: readonly IProduction[]; readonly idx: number };

/** A token's own kind, and that of all tokens which belong to it as a category. */
function kindsOf({ tokenTypeIdx, categoryMatches }: TokenType): readonly number[] {
  return [...(tokenTypeIdx === undefined ? [] : [tokenTypeIdx]), ...(categoryMatches ?? [])];
}

/** All productions of one rule in which a choice is made, at whatever depth. */
function innerOf(definition: readonly IProduction[]): readonly Inner[] {
  return definition.flatMap(production => {
    if (production instanceof Terminal || production instanceof NonTerminal) return [];
    const inner = production as Inner;
    return [...(kindOf(inner) === undefined ? [] : [inner]), ...innerOf(inner.definition)];
  });
}

function kindOf(production: IProduction): string | undefined {
  if (production instanceof Alternation) return 'Alternation';
  if (production instanceof Option) return 'Option';
  if (production instanceof RepetitionMandatoryWithSeparator) return 'RepetitionMandatoryWithSeparator';
  if (production instanceof RepetitionMandatory) return 'RepetitionMandatory';
  if (production instanceof RepetitionWithSeparator) return 'RepetitionWithSeparator';
  return production instanceof Repetition ? 'Repetition' : undefined;
}
