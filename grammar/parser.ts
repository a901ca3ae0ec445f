// The grammar, as chevrotain rules over the tokens that layout.ts has put in order.
//
// It is total: whatever can be missing is optional and whatever does not fit is kept as a leftover, so a mistake never
// throws the parser off its line. build-ast.ts says what is wrong; recovery stays on as a second net.

import { CstParser, generateCstDts, type IToken } from 'chevrotain';
import type { ChunkCstNode } from './cst.generated.ts';
import { OneTokenAhead } from './lookahead.ts';
import * as t from './tokens.ts';

const w = t.word;

class PlantParser extends CstParser {
  constructor(skipValidations: boolean) {
    super(t.vocabulary, {
      recoveryEnabled: true,
      nodeLocationTracking: 'onlyOffset',
      maxLookahead: 1,
      lookaheadStrategy: new OneTokenAhead(),
      skipValidations,
    });
    this.performSelfAnalysis();
  }

  readonly chunk = this.RULE('chunk', () => {
    this.OPTION(() => {
      this.OR([
        { ALT: () => this.SUBRULE(this.use) },
        { ALT: () => this.SUBRULE(this.let) },
        { ALT: () => this.SUBRULE(this.catalogue) },
        { ALT: () => this.SUBRULE(this.connect) },
        { ALT: () => this.SUBRULE(this.case) },
        { ALT: () => this.SUBRULE(this.require) },
        { ALT: () => this.SUBRULE(this.accept) },
        { ALT: () => this.SUBRULE(this.entity), IGNORE_AMBIGUITIES: true },
      ]);
    });
    this.MANY(() => {
      this.OR1([
        { ALT: () => this.CONSUME(t.Leftover) },
        { ALT: () => this.CONSUME(t.Close, { LABEL: 'Leftover' }) },
        { ALT: () => this.CONSUME(t.Separator) },
        { ALT: () => this.SUBRULE(this.block) },
      ]);
    });
  });

  private readonly entity = this.RULE('entity', () => {
    this.OPTION(() => this.CONSUME(w('part')));
    this.OPTION1(() => this.CONSUME(t.AnyName, { LABEL: 'kind' }));
    this.OPTION2(() => this.CONSUME(t.Tag, { LABEL: 'name' }));
    this.OPTION3(() => this.SUBRULE(this.base));
    this.SUBRULE(this.blocks);
  });

  private readonly base = this.RULE('base', () => {
    this.CONSUME(w('is'));
    this.OPTION(() => this.CONSUME(w('pick')));
    this.OPTION1(() => this.SUBRULE(this.path));
  });

  private readonly use = this.RULE('use', () => {
    this.CONSUME(w('use'));
    this.OPTION(() => this.CONSUME(t.Text));
    this.OPTION1(() => {
      this.CONSUME(w('as'));
      this.OPTION2(() => this.CONSUME(t.Tag, { LABEL: 'alias' }));
    });
    this.SUBRULE(this.blocks);
  });

  private readonly let = this.RULE('let', () => {
    this.CONSUME(w('let'));
    this.OPTION(() => this.CONSUME(t.Tag, { LABEL: 'name' }));
    this.OPTION1(() => this.CONSUME(t.Equals));
    this.OPTION2(() => this.SUBRULE(this.expression));
    this.MANY(() => this.SUBRULE(this.clause));
    this.SUBRULE(this.blocks);
  });

  private readonly catalogue = this.RULE('catalogue', () => {
    this.CONSUME(w('catalogue'));
    // A name, a kind or nothing: `from` is a name too, but never a kind.
    this.OPTION({
      GATE: () => this.LA(1).tokenType !== w('from'),
      DEF: () => this.CONSUME(t.AnyName, { LABEL: 'kind' }),
    });
    this.OPTION1(() => this.CONSUME(t.Tag, { LABEL: 'name' }));
    this.OPTION2(() => {
      this.CONSUME(w('from'));
      this.OPTION3(() => this.CONSUME(t.Text));
    });
    this.SUBRULE(this.blocks);
  });

  private readonly connect = this.RULE('connect', () => {
    this.CONSUME(w('connect'));
    this.MANY(() => {
      this.OR([
        { ALT: () => this.CONSUME(t.Tag, { LABEL: 'item' }) },
        { ALT: () => this.CONSUME(t.Arrow, { LABEL: 'item' }) },
      ]);
    });
    this.SUBRULE(this.blocks);
  });

  private readonly case = this.RULE('case', () => {
    this.CONSUME(w('case'));
    this.OPTION(() => this.CONSUME(t.Tag, { LABEL: 'name' }));
    this.OPTION1(() => {
      this.CONSUME(w('is'));
      this.MANY(() => {
        this.OR([
          { ALT: () => this.CONSUME1(t.Tag, { LABEL: 'item' }) },
          { ALT: () => this.CONSUME(t.Comma, { LABEL: 'item' }) },
        ]);
      });
    });
    this.SUBRULE(this.blocks);
  });

  private readonly require = this.RULE('require', () => {
    this.CONSUME(w('require'));
    this.OPTION({
      GATE: () => this.LA(2).tokenType === t.Colon,
      DEF: () => {
        this.CONSUME(t.Tag, { LABEL: 'name' });
        this.CONSUME(t.Colon);
      },
    });
    this.OPTION1(() => this.SUBRULE(this.expression));
    this.OPTION2(() => this.SUBRULE(this.during));
    this.OPTION3(() => this.SUBRULE1(this.expression));
    this.OPTION4(() => this.SUBRULE1(this.during));
    this.OPTION5(() => this.SUBRULE(this.because));
    this.SUBRULE(this.blocks);
  });

  private readonly during = this.RULE('during', () => {
    this.CONSUME(w('during'));
    this.OPTION(() => this.CONSUME(t.Tag));
  });

  private readonly because = this.RULE('because', () => {
    this.CONSUME(w('because'));
    this.OPTION(() => this.CONSUME(t.Text));
  });

  private readonly accept = this.RULE('accept', () => {
    this.CONSUME(w('accept'));
    this.OPTION(() => this.CONSUME(t.Tag, { LABEL: 'code' }));
    this.OPTION1(() => {
      this.CONSUME(w('on'));
      this.OPTION2(() => this.CONSUME1(t.Tag, { LABEL: 'tag' }));
    });
    this.OPTION3(() => this.SUBRULE(this.bound));
    this.OPTION4(() => {
      this.CONSUME(w('until'));
      this.OPTION5(() => this.CONSUME(t.DateWord));
    });
    this.OPTION6(() => this.SUBRULE(this.because));
    this.SUBRULE(this.blocks);
  });

  private readonly bound = this.RULE('bound', () => {
    this.OR([
      { ALT: () => this.CONSUME(w('up'), { LABEL: 'direction' }) },
      { ALT: () => this.CONSUME(w('down'), { LABEL: 'direction' }) },
    ]);
    this.OPTION(() => this.CONSUME(w('to')));
    this.OPTION1(() => this.SUBRULE(this.expression));
  });

  /** What follows a head or a property: its block, and whatever does not belong there. */
  private readonly blocks = this.RULE('blocks', () => {
    this.MANY(() => {
      this.OR([
        { ALT: () => this.CONSUME(t.Leftover) },
        { ALT: () => this.CONSUME(t.Close, { LABEL: 'Leftover' }) },
        { ALT: () => this.SUBRULE(this.block) },
      ]);
    });
  });

  private readonly block = this.RULE('block', () => {
    this.CONSUME(t.BlockOpen);
    // A property may begin with anything at all, and so would never let the block end.
    this.MANY({
      GATE: () => this.LA(1).tokenType !== t.BlockClose,
      DEF: () => {
        this.OR([{ ALT: () => this.CONSUME(t.Separator) }, { ALT: () => this.SUBRULE(this.property) }]);
      },
    });
    this.CONSUME(t.BlockClose);
  });

  /** A property, or the row of a catalogue: a name with a block. */
  private readonly property = this.RULE('property', () => {
    this.OPTION(() => this.SUBRULE(this.path));
    this.OPTION1(() => this.CONSUME(t.Equals));
    this.OPTION2(() => this.SUBRULE(this.expression));
    this.MANY(() => this.SUBRULE(this.clause));
    this.OPTION3({ GATE: () => !this.isAtEnd(), DEF: () => this.SUBRULE(this.blocks) });
  });

  private isAtEnd(): boolean {
    const { tokenType } = this.LA(1);
    return tokenType === t.Separator || tokenType === t.BlockClose;
  }

  private readonly path = this.RULE('path', () => {
    this.CONSUME(t.AnyName);
    this.MANY(() => {
      this.CONSUME(t.Dot);
      this.OPTION(() => this.CONSUME1(t.AnyName));
    });
  });

  private readonly clause = this.RULE('clause', () => {
    this.OR([
      { ALT: () => this.CONSUME(w('from'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('assumed'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('for'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('every'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('per'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('delivering'), { LABEL: 'word' }) },
      { ALT: () => this.CONSUME(w('absorbing'), { LABEL: 'word' }) },
    ]);
    this.OPTION(() => this.SUBRULE(this.expression));
  });

  /** Operands and operators as they come; build-expression.ts knows which binds tighter. */
  private readonly expression = this.RULE('expression', () => {
    this.AT_LEAST_ONE(() => {
      this.OR([
        { ALT: () => this.SUBRULE(this.operand, { LABEL: 'item' }) },
        { ALT: () => this.CONSUME(t.Operator, { LABEL: 'item' }) },
      ]);
    });
  });

  private readonly operand = this.RULE('operand', () => {
    this.OR([
      {
        ALT: () => {
          this.CONSUME(t.NumberWord);
          this.OPTION(() => this.CONSUME(t.Unit));
        },
      },
      { ALT: () => this.CONSUME(t.Text) },
      {
        ALT: () => {
          this.SUBRULE(this.reference);
          this.OPTION1(() => this.SUBRULE(this.parentheses));
        },
      },
      { ALT: () => this.SUBRULE1(this.parentheses) },
      { ALT: () => this.SUBRULE(this.curve) },
      {
        ALT: () => {
          this.CONSUME(w('pick'));
          this.OPTION2(() => {
            this.CONSUME(w('from'));
            this.OPTION3(() => this.SUBRULE2(this.parentheses));
          });
        },
      },
    ]);
  });

  private readonly reference = this.RULE('reference', () => {
    this.CONSUME(t.Tag, { LABEL: 'AnyName' });
    this.MANY(() => {
      this.CONSUME(t.Dot);
      this.OPTION(() => this.CONSUME(t.AnyName));
    });
  });

  private readonly parentheses = this.RULE('parentheses', () => {
    this.CONSUME(t.Open);
    this.MANY(() => {
      this.OR([
        { ALT: () => this.SUBRULE(this.expression, { LABEL: 'item' }) },
        { ALT: () => this.CONSUME(t.Comma, { LABEL: 'item' }) },
        { ALT: () => this.CONSUME(t.Leftover), IGNORE_AMBIGUITIES: true },
      ]);
    });
    this.CONSUME(t.Close);
  });

  private readonly curve = this.RULE('curve', () => {
    this.CONSUME(w('curve'));
    this.MANY(() => {
      this.OR([
        { ALT: () => this.CONSUME(t.AnyName, { LABEL: 'heading' }) },
        { ALT: () => this.CONSUME(t.Comma, { LABEL: 'heading' }) },
      ]);
    });
    this.OPTION(() => this.SUBRULE(this.points));
  });

  private readonly points = this.RULE('points', () => {
    this.CONSUME(t.CurveOpen);
    this.MANY(() => {
      this.OR([{ ALT: () => this.CONSUME(t.CurveItem) }, { ALT: () => this.CONSUME(t.Close, { LABEL: 'CurveItem' }) }]);
    });
    this.CONSUME(t.CurveClose);
  });
}

export type { PlantParser };

/** Exported with its validation for the test that runs it; validating takes far longer than any parse. */
export const buildParser = (skipValidations: boolean): PlantParser => new PlantParser(skipValidations);

const parser = buildParser(true);

/** Reads laid-out tokens into a concrete tree. What recovery had to report comes along; it should be nothing. */
export function parseTokens(tokens: IToken[]): { readonly tree: ChunkCstNode; readonly stuckAt: IToken | undefined } {
  parser.input = tokens;
  const tree = parser.chunk() as ChunkCstNode;
  return { tree, stuckAt: parser.errors[0]?.token };
}

/** The types of the concrete tree, as cst.generated.ts must hold them. */
export function cstTypes(from: PlantParser): string {
  const types = generateCstDts(from.getGAstProductions(), { includeVisitorInterface: false });
  const imports = 'import type { CstNode, IToken } from "chevrotain";';
  return `// Types of the concrete syntax tree, generated from the rules in parser.ts: run its test with -u to renew them.\n\n${imports}\n${types.replace(/^import type.*$/m, '')}`;
}
