/** The one unit that was probably meant by a text that is no unit: wrong letter case, a word, one slip. */
import { currencyCodes, type Unit } from './table.ts';

/** Words and signs that people write for a unit; they are not read, only understood well enough to suggest. */
const WORDS: Readonly<Record<string, string>> = {
  second: 's',
  sec: 's',
  minute: 'min',
  hour: 'h',
  hr: 'h',
  day: 'd',
  year: 'a',
  yr: 'a',
  metre: 'm',
  meter: 'm',
  volt: 'V',
  amp: 'A',
  ampere: 'A',
  watt: 'W',
  hertz: 'Hz',
  kelvin: 'K',
  celsius: '°C',
  percent: '%',
  euro: 'EUR',
  '€': 'EUR',
  '£': 'GBP',
  sqmm: 'mm²',
  qmm: 'mm²',
  ccm: 'cm³',
};

/** With the letter case lost, these are more likely mega than milli. */
const MEGA = /^M(?:W|Wh|VA|VAh|var|varh|J|Hz)$/u;

/** The likely unit, or nothing: a suggestion that is a guess is worse than none. */
export function nearUnit(text: string, known: ReadonlyMap<string, Unit>): Unit | undefined {
  return byWord(text, known) ?? byLetterCase(text, known) ?? byOneSlip(text, known);
}

function byWord(text: string, known: ReadonlyMap<string, Unit>): Unit | undefined {
  const lower = text.toLowerCase();
  const singular = lower.length > 3 && lower.endsWith('s') ? lower.slice(0, -1) : lower;
  const word = Object.hasOwn(WORDS, singular) ? WORDS[singular] : undefined;
  return word === undefined ? undefined : known.get(word);
}

function byLetterCase(text: string, known: ReadonlyMap<string, Unit>): Unit | undefined {
  const lower = text.toLowerCase();
  const found = new Set<Unit>();
  for (const [spelling, unit] of known) if (spelling.toLowerCase() === lower) found.add(unit);
  if (found.size < 2) return [...found][0];
  const candidates = [...found];
  const mega = candidates.find(unit => MEGA.test(unit.text));
  return mega ?? (candidates.length === 2 ? candidates.find(unit => unit.text.startsWith('m')) : undefined);
}

/** One letter too many, too few, wrong, or two swapped; only for texts long enough to tell, and only if one unit fits. */
function byOneSlip(text: string, known: ReadonlyMap<string, Unit>): Unit | undefined {
  if (text.length < 3 || currencyCodes.includes(text.toUpperCase())) return undefined;
  const found = new Set<Unit>();
  for (const [spelling, unit] of known) {
    if (spelling.length >= 3 && unit.dimension.currencies.length === 0 && isOneSlip(text, spelling)) found.add(unit);
  }
  return found.size === 1 ? [...found][0] : undefined;
}

function isOneSlip(a: string, b: string): boolean {
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
