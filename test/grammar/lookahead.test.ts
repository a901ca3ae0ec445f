// One token ahead, as the library's own strategy looks: the same way for every token, in every rule.
import {
  Alternation,
  type IProduction,
  LLkLookaheadStrategy,
  NonTerminal,
  type OptionalProductionType,
  type Rule,
  Terminal,
} from 'chevrotain';
import { expect, it } from 'vitest';
import { OneTokenAhead } from '../../grammar/lookahead.ts';
import { buildParser } from '../../grammar/parser.ts';
import { vocabulary } from '../../grammar/tokens.ts';

type Inner = IProduction & {
  readonly definition: readonly IProduction[];
  readonly idx: number;
  readonly maxLookahead?: number;
};

const choosing = /^(Alternation|Option|Repetition\w*)$/;

const nameOf = (production: IProduction): string => production.constructor.name;

function placesIn(definition: readonly IProduction[]): readonly Inner[] {
  return definition.flatMap(production => {
    if (production instanceof Terminal || production instanceof NonTerminal) return [];
    const inner = production as Inner;
    return [...(choosing.test(nameOf(inner)) ? [inner] : []), ...placesIn(inner.definition)];
  });
}

/** For every kind of token, which way it is taken. */
function waysOf(strategy: InstanceType<typeof LLkLookaheadStrategy>, rule: Rule, place: Inner): readonly unknown[] {
  const common = {
    rule,
    prodOccurrence: place.idx,
    maxLookahead: place.maxLookahead ?? 1,
    dynamicTokensEnabled: false,
  };
  const look: () => unknown =
    place instanceof Alternation
      ? strategy.buildLookaheadForAlternation({ ...common, hasPredicates: false })
      : strategy.buildLookaheadForOptional({ ...common, prodType: nameOf(place) as OptionalProductionType });
  return vocabulary.map(type => {
    const token = { tokenType: type, tokenTypeIdx: type.tokenTypeIdx, image: '', startOffset: 0 };
    return look.call({ LA: () => token, LA_FAST: () => token });
  });
}

const rules = Object.values(buildParser(true).getGAstProductions());
const places = rules.flatMap(rule => placesIn(rule.definition).map(place => ({ rule, place })));

it('is tried on every choice of the grammar', () => expect(places.length).toBeGreaterThan(40));

it.each(places.map(({ rule, place }) => ({ name: `${rule.name}: ${nameOf(place)} ${place.idx}`, rule, place })))(
  '$name',
  ({ rule, place }) => {
    const library = waysOf(new LLkLookaheadStrategy({ maxLookahead: 1 }), rule, place);
    expect(waysOf(new OneTokenAhead(), rule, place)).toEqual(library);
  },
);
