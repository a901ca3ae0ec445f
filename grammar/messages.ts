// What a syntax problem says, in the words of the language: what was expected, and an example where one helps.

import { isHead, KINDS, PER_WORDS } from './words.ts';

const quote = (text: string): string => `\`${shorten(text)}\``;

export const messages = {
  // Declarations
  noDeclaration: (word: string) =>
    `${quote(word)} begins no declaration. A declaration begins with a kind such as \`grid\` or \`battery\`, or with \`part\`, \`catalogue\`, \`use\`, \`let\`, \`connect\`, \`case\`, \`require\` or \`accept\`.`,
  nearDeclaration: (word: string, near: string) => `${quote(word)} begins no declaration. Did you mean ${quote(near)}?`,
  propertyOutside: (name: string) =>
    `${quote(name)} stands outside any block. A property belongs between the \`{\` and \`}\` of a declaration.`,
  tooMuch: (text: string) =>
    isHead(text)
      ? `A declaration begins on its own line: ${quote(text)} does not.`
      : `${quote(text)} does not belong here: the declaration before it is complete.`,
  missingIs: (part: string) => `Between the name and the part ${quote(part)} the word \`is\` is missing.`,
  missingAs: (name: string) => `Before the name ${quote(name)} the word \`as\` is missing.`,
  outside: (text: string) =>
    `${quote(text)} does not belong here. A declaration begins with its kind, such as \`grid MAIN {\`.`,
  missingName: (kind: string) => `A ${kind} needs a name, such as \`${kind} ${nameExamples[kind] ?? 'X1'}\`.`,
  missingKind: 'A kind belongs between `part` and the name, such as `part battery LongString`.',
  missingCatalogueKind: 'A catalogue needs its kind and a name, such as `catalogue converter AirCooled`.',
  unknownKind: (word: string) =>
    `${quote(word)} is no kind. The kinds are ${KINDS.map(kind => `\`${kind}\``).join(', ')}.`,
  noPart: (kind: string) =>
    `A ${kind} can't be a part: a part is a template of a component, such as \`part battery LongString\`.`,
  keywordAsName: (word: string) => `${quote(word)} is a word of the language and can't be a name. Choose another name.`,
  missingBase: 'After `is` comes a part, such as `is LongString`, or `pick` and a catalogue.',
  missingCatalogue: 'After `pick` comes the catalogue to pick from, such as `is pick AirCooled`.',
  brokenPath: 'After `.` a name is missing.',
  secondBlock: 'A declaration has one block only.',
  rowOutside: 'A block inside a block is a row of a catalogue; here a property `name = value` is expected.',
  rowName: (text: string) =>
    `${quote(text)} can't begin a row. A row of a catalogue is a name and a block, such as \`kva350 { … }\`.`,
  rowBlock: (name: string) => `The row ${quote(name)} needs a block, such as \`${shorten(name)} { … }\`.`,
  nameStart: (text: string) => `A name begins with a letter: ${quote(text)} does not.`,
  noBlock: (word: string) => `\`${word}\` takes no block.`,
  missingPath: '`use` needs the path of a file in quotes, such as `use "parts/cells.plant"`.',
  missingAlias: 'After `as` comes the name behind which the file stands, such as `as cells`.',
  missingLetValue: 'A `let` needs a name and a value, such as `let peak = 400 kW`.',
  missingChain: '`connect` needs at least two tags with `->` between them, such as `connect MAIN -> T1`.',
  missingArrow: (before: string, after: string) =>
    `Between ${quote(before)} and ${quote(after)} an arrow \`->\` is missing.`,
  missingTag: 'Next to `->` a tag is missing, such as `MAIN -> T1`.',
  missingCases: 'After `is` come the cases that this one combines, such as `is winter, worn`.',
  missingCaseComma: (before: string, after: string) =>
    `Between ${quote(before)} and ${quote(after)} a comma is missing.`,
  missingCondition: '`require` needs a comparison, such as `require T1.loading <= 95 %`.',
  noComparison: '`require` needs a comparison with `<=`, `<`, `>=`, `>`, `==` or `!=`, such as `T1.loading <= 95 %`.',
  missingDuring: 'After `during` comes the name of a duty, such as `during braking`.',
  missingReason: 'After `because` comes a reason in quotes, such as `because "agreed with the customer"`.',
  missingCode: '`accept` needs the code of a finding, such as `accept transformer_spare on T1`.',
  missingOn: 'After the code comes `on` and the tag that the finding is about, such as `on T1`.',
  missingBound: 'Up to or down to which value? Such as `down to 5 %`.',
  missingTo: (direction: string) => `After \`${direction}\` comes \`to\` and a value, such as \`${direction} to 5 %\`.`,
  missingUntil: 'An acceptance needs a last day, such as `until 2027-06-30`.',
  missingDate: 'After `until` comes a day as year-month-day, such as `2027-06-30`.',
  noSuchDay: (text: string) =>
    `There is no day ${quote(text)}. A day is written year-month-day, such as \`2027-06-30\`.`,
  dateOutside: 'A date stands only after `until`; elsewhere put it in quotes.',
  missingBecause: 'An acceptance needs a reason, such as `because "agreed with the customer"`.',
  repeated: (word: string) => `\`${word}\` is given twice.`,

  // Properties
  propertyName: (text: string) =>
    `${quote(text)} can't begin a property. A property is a name, \`=\` and a value, such as \`length = 35 m\`.`,
  missingEquals: (name: string) => `After ${quote(name)} comes \`=\` and a value, such as \`rated_power = 500 kVA\`.`,
  missingValue: 'A property needs a value after `=`, such as `rated_power = 500 kVA`.',
  missingClauseValue: (word: string) => `After \`${word}\` comes a value, such as \`${word} 15 min\`.`,
  missingPer: `After \`per\` comes ${PER_WORDS.map(word => `\`${word}\``).join(' or ')}.`,
  missingSource: 'After `from` comes the source in quotes, such as `from "data sheet, page 3"`.',
  noSource: (word: string) => `After \`${word}\` comes a text in quotes, such as \`${word} "data sheet, page 3"\`.`,
  noClause: (word: string) => `\`${word}\` has no place here.`,
  afterClause: (word: string) => `\`${word}\` stands alone: no value belongs behind it.`,
  afterValue: (text: string) =>
    `${quote(text)} does not fit behind the value. A property ends with its line or a comma; between two values an operator is needed.`,
  missingComma: (name: string) => `A comma or a line end is missing before ${quote(name)}.`,
  emptyBetweenCommas: 'There is no property before this comma.',
  secondEquals: 'One `=` is enough: a property is one name and one value.',
  compareWith: 'To compare, write `<=`, `<`, `>=`, `>`, `==` or `!=`.',
  keywordAsValue: (word: string) => `${quote(word)} is a word of the language and can't stand for a value.`,

  // Values
  missingOperand: (operator: string) => `A value is missing next to ${quote(operator)}.`,
  missingOperator: 'Between two values an operator is missing.',
  textAfterValue: 'A text behind a value needs `from` or `assumed` before it.',
  unitAlone: 'A unit needs a number before it, such as `35 mm²`.',
  emptyParentheses: 'Between `(` and `)` a value is missing.',
  emptyArgument: 'A value is missing next to the comma.',
  commaInGroup:
    'Several values with commas stand only behind the name of a function, such as `max(a, b)`, or behind `pick from`.',
  insideParentheses: (text: string) => `${quote(text)} does not belong between \`(\` and \`)\`.`,
  missingChoices: 'After `pick from` come the choices in parentheses, such as `pick from (340 V, 360 V)`.',
  qualifiedFunction: 'A function is named by one word, such as `max(a, b)`.',
  nestedSpread: "A range or tolerance can't be part of another one.",
  spreadBlanks: "Write the tolerance with blanks, ` ± `, so that it can't be taken for `+` and `-`.",
  literalDeviation: 'The deviation after `±` is a plain number, such as `± 10 %` or `± 20 V`.',
  negativeDeviation: 'The deviation after `±` carries no sign of its own.',
  comparisonOutside: 'A comparison stands only in `require`.',
  twoComparisons: 'One comparison at a time: write two requirements.',
  exponent: 'An exponent is a plain number, such as `x^2`.',
  towerOfPowers: 'Say with parentheses which power comes first.',
  tooLong: (limit: number) => `This value has more than ${limit} operators. Split it with \`let\`.`,
  tooDeep: (limit: number) => `Parentheses are nested more than ${limit} deep. Split the value with \`let\`.`,
  tooLarge: 'This number is too large.',
  decimalComma: (right: string) => `Decimals are written with a point: \`${right}\`.`,
  commaInNumber: (decimal: string, grouped: string) =>
    `A comma can't stand in a number. Write \`${decimal}\` with a decimal point, or \`${grouped}\` with digit groups.`,
  manyCommas: (grouped: string) => `A comma can't stand in a number. Digits are grouped with \`_\`: \`${grouped}\`.`,
  commaInList: 'A comma between two digits reads as a decimal comma: put a blank behind it.',
  leadingPoint: (right: string) => `A number begins with a digit: \`${right}\`.`,
  unclosedText: 'The closing quote `"` is missing.',
  escape: (text: string) => `In a text, \`\\\` stands only before \`"\` or \`\\\`; ${quote(text)} needs \`\\\\\`.`,
  curlyQuotes: 'Texts stand between straight quotes `"`.',
  stray: (text: string) => `${quote(text)} means nothing here.`,
  noValue: (text: string) => `${quote(text)} is no value.`,
  semicolon: 'A property ends with its line or a comma; `;` means nothing here.',
  invisible: 'There are control characters here that mean nothing.',

  // Curves
  missingAxis: 'After `curve` comes what it depends on, such as `curve soc { … }`.',
  missingPoints: 'The points of the curve are missing, such as `curve soc { 0 % 2.6 V, 100 % 3.4 V }`.',
  axisComma: 'The two axes of a curve stand with a comma between them, such as `curve soc, temperature`.',
  tooManyAxes: 'A curve has one axis or two.',
  curveHeading: (text: string) =>
    `${quote(text)} does not belong here. A curve is written \`curve soc { … }\`, with \`per cell\`, \`smooth\` or \`log\` before the brace.`,
  curveItem: (text: string) =>
    `${quote(text)} does not belong among the points of a curve. A row is two numbers, such as \`50 % 3.29 V\`.`,
  rowOfOne: 'A row of a curve has two numbers, such as `50 % 3.29 V`; here one is missing.',
  rowOfMany: (count: number) => `A row of this curve has two numbers, such as \`50 % 3.29 V\`; here stand ${count}.`,
  missingColumns: 'A curve with two axes begins with the row of its columns, such as `columns 0 °C, 25 °C`.',
  columnsOnce: '`columns` begins the points of a curve with two axes, once.',
  rowLength: (wanted: number, found: number) =>
    `This row has ${found} value${found === 1 ? '' : 's'}, the row of columns has ${wanted}.`,
  danglingSign: 'Behind this sign a number is missing.',

  // Lines and brackets
  lineBeginsWith: (text: string) => `A line can't begin with ${quote(text)}: it belongs at the end of the line before.`,
  unclosedBlock: 'This `{` has no `}`: the block is not closed.',
  unclosedCurve: 'This `{` has no `}`: the points of the curve are not closed.',
  unclosedParenthesis: 'This `(` has no `)`.',
  unopenedBlock: 'Here `{` is missing: properties stand between `{` and `}`.',
  unopenedCurve: 'Here `{` is missing: the points of a curve stand between `{` and `}`.',
  strayBrace: 'This `}` has no `{`.',
  strayParenthesis: 'This `)` has no `(`.',
  braceInside: 'No `{` can stand here.',

  // Titles of fixes
  insert: (text: string) => `Insert \`${text}\``,
  replace: (text: string) => `Write \`${shorten(text)}\``,
  join: 'Pull up to the line before',
  remove: 'Remove',
} as const;

const nameExamples: Readonly<Record<string, string>> = {
  plant: 'ValleyStation',
  grid: 'MAIN',
  cable: 'W1',
  transformer: 'T1',
  converter: 'K1',
  battery: 'B1',
  filter: 'F1',
  duty: 'start_peak',
  practice: 'HouseRules',
  case: 'winter',
  let: 'peak',
};

/** Long, many-lined or invisible text, made fit for one line of a message. */
function shorten(text: string): string {
  const line = text.replace(/[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/gu, '\ufffd').replaceAll('`', "'");
  return line.length > 40 ? `${[...line.slice(0, 80)].slice(0, 39).join('')}…` : line;
}
