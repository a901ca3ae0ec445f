/** The units as rows: how each is written, what it measures, its size in SI and which prefixes it takes. */
import { type Dimension, dimensions, moneyOf } from './dimension.ts';

/** A unit as it is read: from a row, with or without a prefix, or a compound of several. */
export interface Unit {
  /** The spelling that output writes: `Ω/km`. */
  readonly text: string;
  readonly dimension: Dimension;
  /** Size in SI; `times / per` is the same as a fraction, see `toSI`. */
  readonly factor: number;
  readonly times: number;
  readonly per: number;
  /** Kelvin at zero, only for points on the temperature scale. */
  readonly offset?: number;
  /** One phrase for hover, for units that are not compounds: `kilovolt-ampere, apparent power`. */
  readonly meaning?: string;
}

export interface UnitRow {
  readonly symbol: string;
  /** Other spellings that are read; output always writes the symbol. */
  readonly aliases: readonly string[];
  readonly dimension: Dimension;
  /** Size in SI as a fraction `times / per`, so that 60 mΩ becomes the number nearest to 0.06. */
  readonly times: number;
  readonly per: number;
  /** Kelvin at zero of this scale; only for points on the temperature scale. */
  readonly offset?: number;
  /** The prefixes it takes, as one string. */
  readonly prefixes: string;
  /** One phrase for hover. */
  readonly meaning: string;
}

export interface Prefix {
  readonly symbol: string;
  readonly aliases: readonly string[];
  readonly times: number;
  readonly per: number;
  readonly meaning: string;
}

/** The SI prefixes of the language (SI Brochure, 9th edition, table 7: from memory; compared with GNU units in the tests). */
export const prefixes: readonly Prefix[] = [
  { symbol: 'p', aliases: [], times: 1, per: 1e12, meaning: 'pico' },
  { symbol: 'n', aliases: [], times: 1, per: 1e9, meaning: 'nano' },
  { symbol: 'µ', aliases: ['u'], times: 1, per: 1e6, meaning: 'micro' },
  { symbol: 'm', aliases: [], times: 1, per: 1e3, meaning: 'milli' },
  { symbol: 'k', aliases: [], times: 1e3, per: 1, meaning: 'kilo' },
  { symbol: 'M', aliases: [], times: 1e6, per: 1, meaning: 'mega' },
  { symbol: 'G', aliases: [], times: 1e9, per: 1, meaning: 'giga' },
];

const all = 'pnµmkMG';
const d = dimensions;

const mechanical: readonly UnitRow[] = [
  unit('m', d.length, { prefixes: 'pnµmk', meaning: 'metre' }),
  unit('cm', d.length, { per: 100, meaning: 'centimetre' }),
  unit('dm', d.length, { per: 10, meaning: 'decimetre' }),
  unit('l', d.volume, { aliases: ['L'], per: 1000, prefixes: 'µm', meaning: 'litre' }),
  unit('g', d.mass, { per: 1000, prefixes: 'pnµmk', meaning: 'gram' }),
  unit('t', d.mass, { times: 1000, meaning: 'tonne, 1000 kg' }),
  unit('N', d.force, { prefixes: 'µmkM', meaning: 'newton' }),
  unit('Pa', d.pressure, { prefixes: 'mkMG', meaning: 'pascal' }),
  unit('bar', d.pressure, { times: 1e5, prefixes: 'm', meaning: 'bar, 100 kPa' }),
  unit('s', d.time, { prefixes: 'pnµm', meaning: 'second' }),
  unit('min', d.time, { times: 60, meaning: 'minute' }),
  unit('h', d.time, { times: 3600, meaning: 'hour' }),
  unit('d', d.time, { times: 86_400, meaning: 'day of 24 h' }),
  // A year has no one length; tariffs and yearly energy count 8760 h.
  unit('a', d.time, { times: 31_536_000, meaning: 'year of 365 days, 8760 h' }),
  unit('Hz', d.frequency, { prefixes: 'µmkMG', meaning: 'hertz' }),
];

const electrical: readonly UnitRow[] = [
  unit('V', d.voltage, { prefixes: all, meaning: 'volt' }),
  unit('A', d.current, { prefixes: all, meaning: 'ampere' }),
  unit('C', d.charge, { prefixes: all, meaning: 'coulomb' }),
  unit('Ah', d.charge, { times: 3600, prefixes: 'µmkM', meaning: 'ampere-hour, 3600 C' }),
  unit('Ω', d.resistance, { aliases: ['ohm', 'Ohm'], prefixes: all, meaning: 'ohm' }),
  unit('S', d.conductance, { prefixes: all, meaning: 'siemens' }),
  unit('H', d.inductance, { prefixes: all, meaning: 'henry' }),
  unit('F', d.capacitance, { prefixes: all, meaning: 'farad' }),
  unit('W', d.active_power, { prefixes: all, meaning: 'watt, active power' }),
  unit('var', d.reactive_power, {
    aliases: ['VAr', 'VAR', 'Var'],
    prefixes: 'mkMG',
    meaning: 'var, reactive power',
  }),
  unit('VA', d.apparent_power, { prefixes: 'mkMG', meaning: 'volt-ampere, apparent power' }),
  unit('J', d.energy, { prefixes: all, meaning: 'joule' }),
  unit('Wh', d.energy, { times: 3600, prefixes: 'µmkMG', meaning: 'watt-hour, 3600 J' }),
  unit('varh', d.reactive_energy, {
    aliases: ['VArh', 'VARh', 'Varh'],
    times: 3600,
    prefixes: 'kMG',
    meaning: 'var-hour',
  }),
  unit('VAh', d.apparent_energy, { times: 3600, prefixes: 'kMG', meaning: 'volt-ampere-hour' }),
];

const others: readonly UnitRow[] = [
  unit('1', d.ratio, { meaning: 'one' }),
  unit('%', d.ratio, { per: 100, meaning: 'per cent' }),
  unit('‰', d.ratio, { per: 1000, meaning: 'per mille' }),
  unit('ppm', d.ratio, { per: 1e6, meaning: 'parts per million' }),
  unit('°', d.angle, { aliases: ['deg'], times: Math.PI, per: 180, meaning: 'degree of angle' }),
  unit('rad', d.angle, { prefixes: 'µm', meaning: 'radian' }),
  unit('K', d.temperature_difference, { prefixes: 'µm', meaning: 'kelvin, a difference of temperatures' }),
  unit('°C', d.temperature, { aliases: ['degC'], offset: 273.15, meaning: 'degree Celsius, a point on the scale' }),
];

/**
 * Currency codes of ISO 4217 in use: the list of the Debian package iso-codes 4.15, less the codes withdrawn since
 * (ANG, CUC, HRK, SLL, ZWL), with XCG and ZWG, which came later (from memory). Precious metals, bond units and the
 * codes for "none" and "test" are left out: nothing is priced in them.
 */
export const currencyCodes: readonly string[] = (
  'AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF ' +
  'CHW CLF CLP CNY COP COU CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD ' +
  'HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL ' +
  'MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON ' +
  'RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX ' +
  'USD USN UYI UYU UYW UZS VED VES VND VUV WST XAF XCD XCG XDR XOF XPF YER ZAR ZMW ZWG'
).split(' ');

const money: readonly UnitRow[] = currencyCodes.map(code =>
  unit(code, moneyOf(code), { prefixes: 'kM', meaning: `amount in ${code} (ISO 4217)` }),
);

/** Every unit, each once. */
export const unitRows: readonly UnitRow[] = [...mechanical, ...electrical, ...others, ...money];

function unit(symbol: string, dimension: Dimension, more: Partial<UnitRow> & { readonly meaning: string }): UnitRow {
  return { symbol, aliases: [], dimension, times: 1, per: 1, prefixes: '', ...more };
}
