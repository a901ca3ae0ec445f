/** What a number measures: exponents of base units, with the tags that keep active, reactive and apparent power apart. */

/**
 * `active`, `reactive` and `apparent` share the exponents of a power; `point` is a point on the temperature scale;
 * `angle` and `count` have no exponents at all but are not shown as per cent.
 */
export type Kind = 'active' | 'reactive' | 'apparent' | 'point' | 'angle' | 'count';

/** How often a currency counts: `EUR/kWh` has EUR once. */
export interface CurrencyExponent {
  readonly code: string;
  readonly exponent: number;
}

/** One instance per dimension, so `===` compares dimensions. */
export interface Dimension {
  /** Number of the instance, for caches. */
  readonly id: number;
  /** Plain words without an article: `active power`. */
  readonly name: string;
  /** Plain words with an article: `an active power`. */
  readonly phrase: string;
  /** The coherent SI unit, in a spelling that is read back; empty for plain numbers. */
  readonly unit: string;
  /** What a person might write, for messages: `35 mm²`. */
  readonly example?: string;
  /** Exponents of m, kg, s, A, K, then how often the reactive and the apparent tag count. */
  readonly exponents: readonly number[];
  readonly kind?: Kind;
  /** Sorted by code; empty for everything but money. */
  readonly currencies: readonly CurrencyExponent[];
}

const REACTIVE = 5;
const APPARENT = 6;
const POWER: readonly number[] = [2, 1, -3, 0, 0];
const ANY_CURRENCY = 'XXX';

const instances = new Map<string, Dimension>();
const products = new Map<number, Dimension>();
const quotients = new Map<number, Dimension>();

/** Every dimension with a name. Exponents in the order m, kg, s, A, K. */
export const dimensions = {
  ratio: define('ratio', 'a ratio', '', '95 %', [0, 0, 0, 0, 0]),
  count: define('plain number', 'a plain number', '', '4', [0, 0, 0, 0, 0], 'count'),
  angle: define('angle', 'an angle', 'rad', '30 °', [0, 0, 0, 0, 0], 'angle'),
  length: define('length', 'a length', 'm', '35 m', [1, 0, 0, 0, 0]),
  area: define('area', 'an area', 'm²', '35 mm²', [2, 0, 0, 0, 0]),
  volume: define('volume', 'a volume', 'm³', '200 l', [3, 0, 0, 0, 0]),
  volume_flow: define('volume flow', 'a volume flow', 'm³/s', '12 m³/h', [3, 0, -1, 0, 0]),
  mass: define('mass', 'a mass', 'kg', '850 kg', [0, 1, 0, 0, 0]),
  force: define('force', 'a force', 'N', '12 kN', [1, 1, -2, 0, 0]),
  pressure: define('pressure', 'a pressure', 'Pa', '2.5 bar', [-1, 1, -2, 0, 0]),
  speed: define('speed', 'a speed', 'm/s', '6 m/s', [1, 0, -1, 0, 0]),
  time: define('time', 'a time', 's', '45 min', [0, 0, 1, 0, 0]),
  frequency: define('frequency', 'a frequency', 'Hz', '50 Hz', [0, 0, -1, 0, 0]),
  voltage: define('voltage', 'a voltage', 'V', '400 V', [2, 1, -3, -1, 0]),
  voltage_slope: define(
    'rate of change of voltage',
    'a rate of change of voltage',
    'V/s',
    '500 V/µs',
    [2, 1, -4, -1, 0],
  ),
  current: define('current', 'a current', 'A', '280 A', [0, 0, 0, 1, 0]),
  current_slope: define(
    'rate of change of current',
    'a rate of change of current',
    'A/s',
    '100 A/ms',
    [0, 0, -1, 1, 0],
  ),
  current_density: define('current density', 'a current density', 'A/m²', '2 A/mm²', [-2, 0, 0, 1, 0]),
  charge: define('charge', 'a charge', 'C', '280 Ah', [0, 0, 1, 1, 0]),
  let_through: define('let-through value', 'a let-through value', 'A²*s', '120_000 A²*s', [0, 0, 1, 2, 0]),
  resistance: define('resistance', 'a resistance', 'Ω', '60 mΩ', [2, 1, -3, -2, 0]),
  conductance: define('conductance', 'a conductance', 'S', '20 mS', [-2, -1, 3, 2, 0]),
  inductance: define('inductance', 'an inductance', 'H', '100 µH', [2, 1, -2, -2, 0]),
  capacitance: define('capacitance', 'a capacitance', 'F', '300 µF', [-2, -1, 4, 2, 0]),
  resistance_per_length: define(
    'resistance per length',
    'a resistance per length',
    'Ω/m',
    '0.124 Ω/km',
    [1, 1, -3, -2, 0],
  ),
  inductance_per_length: define(
    'inductance per length',
    'an inductance per length',
    'H/m',
    '0.25 mH/km',
    [1, 1, -2, -2, 0],
  ),
  capacitance_per_length: define(
    'capacitance per length',
    'a capacitance per length',
    'F/m',
    '0.3 µF/km',
    [-3, -1, 4, 2, 0],
  ),
  resistivity: define('resistivity', 'a resistivity', 'Ω*m', '0.0172 Ω*mm²/m', [3, 1, -3, -2, 0]),
  active_power: define('active power', 'an active power', 'W', '400 kW', POWER, 'active'),
  reactive_power: define('reactive power', 'a reactive power', 'var', '120 kvar', POWER, 'reactive'),
  apparent_power: define('apparent power', 'an apparent power', 'VA', '500 kVA', POWER, 'apparent'),
  power: define('product of voltage and current', 'a product of voltage and current', 'V*A', '400 V*A', POWER),
  power_slope: define('rate of change of power', 'a rate of change of power', 'W/s', '50 kW/s', [2, 1, -4, 0, 0]),
  energy: define('energy', 'an energy', 'J', '200 kWh', [2, 1, -2, 0, 0]),
  reactive_energy: define('reactive energy', 'a reactive energy', 'var*s', '20 kvarh', [2, 1, -2, 0, 0], 'reactive'),
  apparent_energy: define('apparent energy', 'an apparent energy', 'VA*s', '20 kVAh', [2, 1, -2, 0, 0], 'apparent'),
  temperature: define('temperature', 'a temperature', '°C', '25 °C', [0, 0, 0, 0, 1], 'point'),
  temperature_difference: define('temperature difference', 'a temperature difference', 'K', '15 K', [0, 0, 0, 0, 1]),
  temperature_coefficient: define(
    'temperature coefficient',
    'a temperature coefficient',
    '1/K',
    '0.39 %/K',
    [0, 0, 0, 0, -1],
  ),
  thermal_resistance: define('thermal resistance', 'a thermal resistance', 'K/W', '0.04 K/W', [-2, -1, 3, 0, 1]),
  thermal_conductance: define('thermal conductance', 'a thermal conductance', 'W/K', '25 W/K', [2, 1, -3, 0, -1]),
  thermal_resistivity: define('thermal resistivity', 'a thermal resistivity', 'K*m/W', '2.5 K*m/W', [-1, -1, 3, 0, 1]),
  heat_capacity: define('heat capacity', 'a heat capacity', 'J/K', '15 kJ/K', [2, 1, -2, 0, -1]),
  /** Any currency: what a price wants. A stated amount always has its own currency, see `moneyOf`. */
  money: intern([0, 0, 0, 0, 0, 0, 0], undefined, [{ code: ANY_CURRENCY, exponent: 1 }], {
    name: 'amount of money',
    phrase: 'an amount of money',
    unit: '',
    example: '31_000 EUR',
  }),
} as const satisfies Record<string, Dimension>;

export type DimensionName = keyof typeof dimensions;

/** The one instance with these exponents (m, kg, s, A, K) and this kind. */
export function dimensionOf(exponents: readonly number[], kind?: Kind): Dimension {
  return intern([...withTags(exponents, kind)], markOf(kind), []);
}

/** The dimension of an amount in one currency, by its ISO 4217 code. Currencies are never converted. */
export function moneyOf(code: string): Dimension {
  return intern([0, 0, 0, 0, 0, 0, 0], undefined, [{ code, exponent: 1 }]);
}

/** Is this an amount in one currency, and nothing per anything? */
export function isMoney(dimension: Dimension): boolean {
  return dimension.currencies.length === 1 && dimension.currencies[0]?.exponent === 1 && isBare(dimension.exponents);
}

/** Ratios and plain numbers: what a factor may be. */
export function isPlain(dimension: Dimension): boolean {
  return dimension === dimensions.ratio || dimension === dimensions.count;
}

/** May a value of `from` stand where `to` is wanted? The same dimension, a ratio for a plain number, any currency for money. */
export function assignable(from: Dimension, to: Dimension): boolean {
  if (from === to || (isPlain(from) && isPlain(to))) return true;
  return to === dimensions.money && isMoney(from);
}

/**
 * The dimension of a product. Exponents add. The tags of reactive and apparent power stay through ratios, times,
 * prices and all that carries no ampere, and fall away against anything electrical (apparent power / voltage is
 * a current). What ends at the exponents of a power is an active power if no electrical factor made it, else the
 * plain product of voltage and current, which only a named function turns into one of the three powers.
 * A point on the temperature scale counts as a difference here: see `quantity.ts` for what it refuses.
 */
export function multiply(a: Dimension, b: Dimension): Dimension {
  return remembered(products, a, b, 1);
}

/** The dimension of a quotient, by the rules of `multiply`. Any two powers give a ratio. */
export function divide(a: Dimension, b: Dimension): Dimension {
  return remembered(quotients, a, b, -1);
}

/** The dimension of a power or root; undefined where no whole exponents are left, as for the root of a voltage. */
export function power(a: Dimension, exponent: number): Dimension | undefined {
  if (a === dimensions.count || exponent === 1) return a;
  const exponents = a.exponents.map(each => each * exponent + 0);
  const currencies = a.currencies.map(each => ({ code: each.code, exponent: each.exponent * exponent }));
  const isWhole = [...exponents, ...currencies.map(each => each.exponent)].every(isUsualExponent);
  return isWhole ? settle(exponents, currencies, isElectrical(a) ? undefined : 'active') : undefined;
}

/** With its article, for messages: "an active power". */
export function describe(dimension: Dimension): string {
  return dimension.phrase;
}

function define(
  name: string,
  phrase: string,
  unit: string,
  example: string,
  exponents: readonly number[],
  kind?: Kind,
): Dimension {
  return intern([...withTags(exponents, kind)], markOf(kind), [], { name, phrase, unit, example });
}

function withTags(exponents: readonly number[], kind: Kind | undefined): number[] {
  const full = [0, 1, 2, 3, 4, REACTIVE, APPARENT].map(index => exponents[index] ?? 0);
  if (kind === 'reactive') full[REACTIVE] = 1;
  if (kind === 'apparent') full[APPARENT] = 1;
  return full;
}

/** Reactive and apparent are counted among the exponents; only the other kinds need a mark. */
function markOf(kind: Kind | undefined): Kind | undefined {
  return kind === 'reactive' || kind === 'apparent' ? undefined : kind;
}

function remembered(cache: Map<number, Dimension>, a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  const key = a.id * 0x100000 + b.id;
  const known = cache.get(key);
  if (known !== undefined) return known;
  const made = combine(a, b, sign);
  cache.set(key, made);
  return made;
}

function combine(a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  if (isPlain(b)) return scaled(a, b);
  if (isPlain(a) && sign === 1) return scaled(b, a);
  const exponents = a.exponents.map((each, index) => each + sign * (b.exponents[index] ?? 0));
  const electrical = isElectrical(a) || isElectrical(b);
  if (electrical) exponents[REACTIVE] = exponents[APPARENT] = 0;
  const untagged = electrical || a === dimensions.power || b === dimensions.power;
  return settle(exponents, mergeCurrencies(a, b, sign), untagged ? undefined : 'active');
}

/** A dimension times or by a plain factor: itself, but no longer a point on a scale, nor a count if the factor is a ratio. */
function scaled(dimension: Dimension, factor: Dimension): Dimension {
  if (dimension.kind === 'point') return dimensions.temperature_difference;
  return dimension === dimensions.count ? factor : dimension;
}

/** Two powers over each other leave their tags but no exponents: that is a ratio, unless money is in it (EUR/kW × kVA is no price). */
function settle(
  exponents: number[],
  currencies: readonly CurrencyExponent[],
  powerKind: 'active' | undefined,
): Dimension {
  const kept = currencies.filter(each => each.exponent !== 0);
  if (kept.length === 0 && POWER.every((_, index) => exponents[index] === 0)) return dimensions.ratio;
  const isPower = kept.length === 0 && withTags(POWER, undefined).every((each, index) => each === exponents[index]);
  return intern(exponents, isPower ? powerKind : undefined, kept);
}

function isElectrical(dimension: Dimension): boolean {
  return dimension.exponents[3] !== 0;
}

function isBare(exponents: readonly number[]): boolean {
  return exponents.every(each => each === 0);
}

/** Beyond 24 no unit of engineering goes. */
function isUsualExponent(exponent: number): boolean {
  return Number.isInteger(exponent) && Math.abs(exponent) <= 24;
}

function mergeCurrencies(a: Dimension, b: Dimension, sign: 1 | -1): CurrencyExponent[] {
  if (a.currencies.length === 0 && b.currencies.length === 0) return [];
  const sums = new Map(a.currencies.map(({ code, exponent }) => [code, exponent]));
  for (const { code, exponent } of b.currencies) sums.set(code, (sums.get(code) ?? 0) + sign * exponent);
  return [...sums].map(([code, exponent]) => ({ code, exponent })).sort((x, y) => (x.code < y.code ? -1 : 1));
}

type Wording = Pick<Dimension, 'name' | 'phrase' | 'unit' | 'example'>;

function intern(
  exponents: readonly number[],
  mark: Kind | undefined,
  currencies: readonly CurrencyExponent[],
  wording?: Wording,
): Dimension {
  const key = `${exponents.join()} ${mark ?? ''} ${currencies.map(({ code, exponent }) => code + exponent).join()}`;
  const known = instances.get(key);
  if (known !== undefined) return known;
  const kind = mark ?? taggedKind(exponents);
  const made: Dimension = Object.freeze({
    id: instances.size,
    ...(wording ?? wordingOf(exponents, currencies)),
    exponents: Object.freeze([...exponents]),
    currencies: Object.freeze([...currencies]),
    ...(kind === undefined ? {} : { kind }),
  });
  instances.set(key, made);
  return made;
}

function taggedKind(exponents: readonly number[]): Kind | undefined {
  if (exponents[REACTIVE] === 1 && exponents[APPARENT] === 0) return 'reactive';
  if (exponents[REACTIVE] === 0 && exponents[APPARENT] === 1) return 'apparent';
  return undefined;
}

function wordingOf(exponents: readonly number[], currencies: readonly CurrencyExponent[]): Wording {
  const unit = unitFromExponents(exponents, currencies);
  const [currency, ...others] = currencies;
  if (currency?.exponent !== 1 || others.length > 0) {
    return { name: `quantity in ${unit}`, phrase: `a quantity in ${unit}`, unit };
  }
  const { code } = currency;
  if (isBare(exponents))
    return { name: `amount in ${code}`, phrase: `an amount in ${code}`, unit, example: `1_200 ${code}` };
  const base = inverseOf(exponents);
  const name = base === undefined ? `price in ${unit}` : `price in ${code} per ${base.name}`;
  const isSimple = base !== undefined && !/[*/]/u.test(base.unit);
  return { name, phrase: `a ${name}`, unit: isSimple ? `${code}/${base.unit}` : unit };
}

/** The named dimension that is the inverse of these exponents, if there is one: what a price is "per". */
function inverseOf(exponents: readonly number[]): Dimension | undefined {
  const inverse = exponents.map(each => 0 - each).join();
  return instances.get(`${inverse} active `) ?? instances.get(`${inverse}  `);
}

/** A spelling in base units that `readUnit` understands: `kg*m²/s³/A`. */
function unitFromExponents(exponents: readonly number[], currencies: readonly CurrencyExponent[]): string {
  const [reactive = 0, apparent = 0] = exponents.slice(REACTIVE);
  const rest = (index: number) => (exponents[index] ?? 0) - (reactive + apparent) * (POWER[index] ?? 0);
  const factors: [string, number][] = [
    ...currencies.map(({ code, exponent }): [string, number] => [code, exponent]),
    ['var', reactive],
    ['VA', apparent],
    ['kg', rest(1)],
    ['m', rest(0)],
    ['A', rest(3)],
    ['K', rest(4)],
    ['s', rest(2)],
  ];
  const above = factors
    .filter(([, exponent]) => exponent > 0)
    .map(([symbol, exponent]) => symbol + superscript(exponent));
  const below = factors
    .filter(([, exponent]) => exponent < 0)
    .map(([symbol, exponent]) => `/${symbol}${superscript(-exponent)}`);
  return (above.join('*') || '1') + below.join('');
}

/** `²` for 2, nothing for 1. */
export function superscript(exponent: number): string {
  if (exponent === 1) return '';
  return [...String(exponent)].map(digit => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '⁻').join('');
}
