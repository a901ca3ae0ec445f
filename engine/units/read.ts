/** From the text of a unit, as it is glued to a number, to what it measures and how large it is. */
import { type Dimension, dimensions, divide, multiply, power, superscript } from './dimension.ts';
import { nearUnit } from './near.ts';
import { type Prefix, prefixes, type Unit, type UnitRow, unitRows } from './table.ts';

export type { Unit } from './table.ts';

export type UnitReading =
  | { readonly ok: true; readonly unit: Unit }
  | { readonly ok: false; readonly problem: 'unknown'; readonly near?: string };

/** One factor of a compound, with its exponent: `mm` and 2. */
interface Factor {
  readonly symbol: string;
  readonly exponent: number;
  readonly below: boolean;
}

const REMEMBER_AT_MOST = 2000;
const remembered = new Map<string, UnitReading>();
/** By text: units that are no compounds. Made as they are met, for the whole table takes a start a good while. */
const simpleUnits = new Map<string, Unit>();
let rowsBySpelling: ReadonlyMap<string, UnitRow> | undefined;
let everySpelling: ReadonlyMap<string, Unit> | undefined;

/**
 * Reads a unit such as `mm²`, `mm2`, `W/K`, `ohm/km`, `A²*s` or `EUR/kWh`. Products come before quotients:
 * `J/kg/K`, while `J/kg*K` is refused because readers disagree about it. Empty text is the unit of plain numbers.
 * What can't be read gives at most one suggestion, and only a likely one.
 */
export function readUnit(text: string): UnitReading {
  const known = remembered.get(text);
  if (known !== undefined) return known;
  if (remembered.size >= REMEMBER_AT_MOST) remembered.clear();
  const reading = readAfresh(text);
  remembered.set(text, reading);
  return reading;
}

/** Every spelling of every unit that is not a compound, prefixes included, with the unit that it names. */
export function spellings(): ReadonlyMap<string, Unit> {
  everySpelling ??= new Map([...rows()].flatMap(([spelling, row]) => withPrefixes(spelling, row)));
  return everySpelling;
}

function withPrefixes(spelling: string, row: UnitRow): readonly (readonly [string, Unit])[] {
  const taken = prefixes.filter(({ symbol }) => row.prefixes.includes(symbol));
  const prefixed = taken.flatMap(prefix =>
    startsOf(prefix).map(start => [start + spelling, unitOf(row, prefix)] as const),
  );
  return [[spelling, unitOf(row, undefined)], ...prefixed];
}

function rows(): ReadonlyMap<string, UnitRow> {
  rowsBySpelling ??= new Map(
    unitRows.flatMap(row => [row.symbol, ...row.aliases].map(spelling => [spelling, row] as const)),
  );
  return rowsBySpelling;
}

/** No spelling names two units. */
function simpleUnit(spelling: string): Unit | undefined {
  const own = rows().get(spelling);
  if (own !== undefined) return unitOf(own, undefined);
  for (const prefix of prefixes) {
    for (const start of startsOf(prefix)) {
      const row = spelling.startsWith(start) ? rows().get(spelling.slice(start.length)) : undefined;
      if (row?.prefixes.includes(prefix.symbol)) return unitOf(row, prefix);
    }
  }
  return undefined;
}

function startsOf({ symbol, aliases }: Prefix): readonly string[] {
  return [symbol, ...aliases];
}

/** A number in this unit, in SI. */
export function toSI(value: number, unit: Unit): number {
  return (value * unit.times) / unit.per + (unit.offset ?? 0);
}

/** A number in SI, in this unit. */
export function fromSI(value: number, unit: Unit): number {
  return ((value - (unit.offset ?? 0)) * unit.per) / unit.times;
}

function readAfresh(text: string): UnitReading {
  const folded = foldUnit(text);
  const simple = simpleUnit(folded === '' ? '1' : folded);
  if (simple !== undefined) return { ok: true, unit: simple };
  const factors = splitFactors(folded);
  const unit = factors === undefined ? undefined : compound(factors);
  if (unit !== undefined) return { ok: true, unit: simpleUnit(unit.text) ?? unit };
  const near = suggestion(folded);
  return near === undefined ? { ok: false, problem: 'unknown' } : { ok: false, problem: 'unknown', near };
}

/** Characters that look like the ones meant, from other scripts and from symbol blocks; the rest is Unicode's own folding. */
const LOOK_ALIKES: ReadonlyMap<string, string> = new Map([
  ...pairs('АВСЕНКМОРТХасеорх', 'ABCEHKMOPTXaceopx'),
  ...pairs('ΑΒΕΗΚΜΝΟΡΤΧΖο', 'ABEHKMNOPTXZo'),
  ...[...'·×⋅∙•∗∘'].map((sign): [string, string] => [sign, '*']),
  ...[...'⁄∕÷'].map((sign): [string, string] => [sign, '/']),
  ...[...'−‐‑–'].map((sign): [string, string] => [sign, '-']),
  ['μ', 'µ'],
]);

/** Stands for itself. To look at Unicode's tables takes long the first time, and most units need none. */
const PLAIN = /^[ -~°µΩ]*$/u;

/** The plain spelling of what may have been typed or pasted: `㎟`, `mm^2` and `mm²` all become digits and letters. */
export function foldUnit(text: string): string {
  const usual = text.replace('²', '2').replace('³', '3');
  if (PLAIN.test(usual)) return usual;
  // The ring and the ordinal sign decompose into letters and blanks, so they go before the normalisation.
  const rings = text.replaceAll('º', '°').replaceAll('˚', '°');
  let folded = '';
  for (const character of rings.normalize('NFKC')) folded += LOOK_ALIKES.get(character) ?? character;
  return folded;
}

/** A symbol, then perhaps an exponent: `mm2`, `mm^2`, `s-1`. */
const FACTOR = /^(.*[^\d^-])(?:\^?(-?\d{1,2}))?$/u;

function splitFactors(folded: string): readonly Factor[] | undefined {
  const factors: Factor[] = [];
  const [above = '', ...below] = folded.split('/');
  if (below.some(part => part.includes('*'))) return undefined;
  for (const part of above === '1' && below.length > 0 ? [] : above.split('*')) {
    const factor = readFactor(part, false);
    if (factor === undefined) return undefined;
    factors.push(factor);
  }
  for (const part of below) {
    const factor = readFactor(part, true);
    if (factor === undefined) return undefined;
    factors.push(factor);
  }
  return factors;
}

function readFactor(part: string, below: boolean): Factor | undefined {
  const match = FACTOR.exec(part);
  if (match?.[1] === undefined) return undefined;
  const exponent = match[2] === undefined ? 1 : Number(match[2]);
  return exponent === 0 ? undefined : { symbol: match[1], exponent: Math.abs(exponent), below: below !== exponent < 0 };
}

function compound(factors: readonly Factor[]): Unit | undefined {
  let dimension: Dimension = dimensions.ratio;
  let times = 1;
  let per = 1;
  const above: string[] = [];
  const below: string[] = [];
  for (const { symbol, exponent, below: isBelow } of factors) {
    const unit = simpleUnit(symbol);
    // A point on a scale has no place in a product; the unit 1 stands alone or above the first stroke.
    if (unit === undefined || unit.offset !== undefined || unit.text === '1') return undefined;
    const raised = power(unit.dimension, exponent);
    if (raised === undefined) return undefined;
    dimension = isBelow ? divide(dimension, raised) : multiply(dimension, raised);
    times *= (isBelow ? unit.per : unit.times) ** exponent;
    per *= (isBelow ? unit.times : unit.per) ** exponent;
    (isBelow ? below : above).push(unit.text + superscript(exponent));
  }
  const text = [above.join('*') || '1', ...below].join('/');
  return Object.freeze({ text, dimension, factor: times / per, times, per });
}

function suggestion(folded: string): string | undefined {
  const [above = '', ...below] = folded.split('/');
  const flat = [above, ...below.flatMap(part => part.split('*'))].join('/');
  const parts = flat.split(/([*/])/u);
  const repaired = parts.map((part, index) =>
    index % 2 === 1 || part === '1' ? part : repairFactor(part, parts.length > 1),
  );
  if (repaired.includes(undefined)) return undefined;
  const text = foldUnit(repaired.join(''));
  const factors = splitFactors(text);
  return simpleUnit(text)?.text ?? (factors === undefined ? undefined : compound(factors)?.text);
}

function repairFactor(part: string, inCompound: boolean): string | undefined {
  const exact = simpleUnit(part);
  if (exact !== undefined) return inCompound && exact.offset !== undefined ? 'K' : part;
  const factor = readFactor(part, false);
  if (factor === undefined) return undefined;
  const known = simpleUnit(factor.symbol) ?? nearUnit(factor.symbol, spellings());
  if (known === undefined || (known.offset !== undefined && factor.exponent !== 1)) return undefined;
  return known.text + superscript(factor.below ? -factor.exponent : factor.exponent);
}

function unitOf(row: UnitRow, prefix: Prefix | undefined): Unit {
  const text = (prefix?.symbol ?? '') + row.symbol;
  const known = simpleUnits.get(text);
  if (known !== undefined) return known;
  const times = row.times * (prefix?.times ?? 1);
  const per = row.per * (prefix?.per ?? 1);
  const common = greatestCommonPower(times, per);
  const unit: Unit = Object.freeze({
    text,
    dimension: row.dimension,
    factor: times / per,
    times: times / common,
    per: per / common,
    ...(row.offset === undefined ? {} : { offset: row.offset }),
    meaning: meaningOf(row, prefix),
  });
  simpleUnits.set(text, unit);
  return unit;
}

function meaningOf(row: UnitRow, prefix: Prefix | undefined): string {
  if (prefix === undefined) return row.meaning;
  return row.dimension.currencies.length > 0 ? `${prefix.times} times an ${row.meaning}` : prefix.meaning + row.meaning;
}

/** The largest power of ten in both, so that a kilogram is 1/1 and not 1000/1000. */
function greatestCommonPower(times: number, per: number): number {
  let common = 1;
  while (common < 1e12 && times % (common * 10) === 0 && per % (common * 10) === 0) common *= 10;
  return common;
}

function pairs(from: string, to: string): [string, string][] {
  const targets = [...to];
  return [...from].map((character, index) => [character, targets[index] ?? character]);
}
