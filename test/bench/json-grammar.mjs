// JSON by the same parser library, with what ours has: tree, error recovery, locations. What our parser is held against.
import { CstParser, createToken, Lexer } from 'chevrotain';

const punctuation = (name, pattern) => createToken({ name, pattern });
const LeftBrace = punctuation('LeftBrace', '{');
const RightBrace = punctuation('RightBrace', '}');
const LeftBracket = punctuation('LeftBracket', '[');
const RightBracket = punctuation('RightBracket', ']');
const Comma = punctuation('Comma', ',');
const Colon = punctuation('Colon', ':');
const Text = createToken({ name: 'Text', pattern: /"(?:[^"\\]|\\(?:[bfnrtv"\\/]|u[0-9a-fA-F]{4}))*"/ });
const Numeral = createToken({ name: 'Numeral', pattern: /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/ });
const Constant = createToken({ name: 'Constant', pattern: /true|false|null/ });
const Blank = createToken({ name: 'Blank', pattern: /\s+/, group: Lexer.SKIPPED });

const tokens = [Blank, Text, Numeral, Constant, LeftBrace, RightBrace, LeftBracket, RightBracket, Comma, Colon];
const lexer = new Lexer(tokens, { positionTracking: 'full' });

class JsonParser extends CstParser {
  constructor() {
    super(tokens, { recoveryEnabled: true, nodeLocationTracking: 'full' });
    const many = (open, item, close) => () => {
      this.CONSUME(open);
      this.MANY_SEP({ SEP: Comma, DEF: () => this.SUBRULE(this[item]) });
      this.CONSUME(close);
    };
    this.RULE('object', many(LeftBrace, 'member', RightBrace));
    this.RULE('array', many(LeftBracket, 'value', RightBracket));
    this.RULE('member', () => {
      this.CONSUME(Text);
      this.CONSUME(Colon);
      this.SUBRULE(this.value);
    });
    this.RULE('value', () => {
      this.OR([
        { ALT: () => this.SUBRULE(this.object) },
        { ALT: () => this.SUBRULE(this.array) },
        { ALT: () => this.CONSUME(Text) },
        { ALT: () => this.CONSUME(Numeral) },
        { ALT: () => this.CONSUME(Constant) },
      ]);
    });
    this.performSelfAnalysis();
  }
}

const parser = new JsonParser();

/** The tree of a text without mistakes; a mistake here is one of the benchmark. */
export function parseJson(text) {
  const lexed = lexer.tokenize(text);
  parser.input = lexed.tokens;
  const tree = parser.value();
  if (lexed.errors.length + parser.errors.length > 0) throw new Error('The generated JSON has a mistake.');
  return tree;
}
