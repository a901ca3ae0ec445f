// The words of the language: which words begin a declaration, which kinds there are, which words end a unit.
//
// Everything else that looks like a word (property names, choices, units, check codes) belongs to the engine.

/** Kinds that a declaration can begin with; `plant`, `duty` and `practice` are kinds like the components are. */
export const KINDS = [
  'plant',
  'grid',
  'bus',
  'cable',
  'transformer',
  'filter',
  'converter',
  'chopper',
  'battery',
  'fuse',
  'duty',
  'practice',
] as const;

/** Words in front of declarations that are no kind. */
export const OTHER_HEADS = ['part', 'catalogue', 'use', 'let', 'connect', 'case', 'require', 'accept'] as const;

/** Words that never are the unit of the number before them. */
export const CLAUSE_WORDS = [
  'from',
  'assumed',
  'for',
  'every',
  'because',
  'until',
  'during',
  'per',
  'smooth',
  'as',
  'is',
  'on',
  'up',
  'down',
  'delivering',
  'absorbing',
] as const;

/** Words with a meaning of their own inside a value. */
export const VALUE_WORDS = ['pick', 'curve'] as const;

/** Words that mean something in one place only and are free to be names everywhere else. */
export const FREE_WORDS = ['log', 'columns', 'to'] as const;

/** Functions of the expression language; they are names, not keywords. */
export const FUNCTIONS = ['min', 'max', 'abs', 'sqrt'] as const;

export const PER_WORDS = ['cell', 'string'] as const;

export const HEADS: readonly string[] = [...KINDS, ...OTHER_HEADS];

/** Keywords: they may name a property or follow a dot, and are never a tag, a let, a part or the head of a reference. */
export const KEYWORDS: readonly string[] = [...HEADS, ...CLAUSE_WORDS, ...VALUE_WORDS];

const kinds: ReadonlySet<string> = new Set(KINDS);
const heads: ReadonlySet<string> = new Set(HEADS);
const clauseWords: ReadonlySet<string> = new Set(CLAUSE_WORDS);
const keywords: ReadonlySet<string> = new Set(KEYWORDS);

export const isKind = (word: string): boolean => kinds.has(word);
export const isHead = (word: string): boolean => heads.has(word);
export const isClauseWord = (word: string): boolean => clauseWords.has(word);
export const isKeyword = (word: string): boolean => keywords.has(word);

/** The only head word that `word` can be a slip of: one letter wrong, missing, too many or swapped with the next. */
export function nearestHead(word: string): string | undefined {
  const lower = word.toLowerCase();
  if (heads.has(lower)) return lower;
  const near = lower.length < 3 ? [] : HEADS.filter(head => oneSlip(lower, head));
  return near.length === 1 ? near[0] : undefined;
}

function oneSlip(a: string, b: string): boolean {
  if (a === b) return true;
  if (Math.abs(a.length - b.length) > 1) return false;
  let start = 0;
  while (start < a.length && a[start] === b[start]) start++;
  let end = 0;
  while (end < Math.min(a.length, b.length) - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  const left = a.slice(start, a.length - end);
  const right = b.slice(start, b.length - end);
  if (left.length <= 1 && right.length <= 1) return true;
  return left.length === 2 && right.length === 2 && left[0] === right[1] && left[1] === right[0];
}
