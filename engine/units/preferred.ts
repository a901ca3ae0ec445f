/** Which units suit which dimension: the ones to offer while typing, and the ones that output prints, by magnitude. */
import { type Dimension, type DimensionName, dimensions, divide, moneyOf } from './dimension.ts';
import { readUnit, type Unit } from './read.ts';

interface Choice {
  /** For completion, the most usual first. */
  readonly offer: string;
  /** For output, rising; `text@x` is taken from x of itself upwards, without a number from 1. The first one holds below. */
  readonly print: string;
}

/** A unit of output and the SI magnitude from which it is taken. */
export interface PrintUnit {
  readonly unit: Unit;
  readonly from: number;
}

/** Common practice, no source: how data sheets of the trade write these. */
const choices: Readonly<Record<Exclude<DimensionName, 'money'>, Choice>> = {
  ratio: { offer: '% ‰ ppm', print: 'ppm %@0.001' },
  count: { offer: '', print: '1' },
  angle: { offer: '° rad', print: '°' },
  length: { offer: 'm km mm cm', print: 'nm µm mm m km@10' },
  area: { offer: 'mm² m² cm²', print: 'mm² m²@0.1' },
  volume: { offer: 'l m³ cm³', print: 'ml l m³@10' },
  volume_flow: { offer: 'm³/h l/s l/min', print: 'l/h m³/h' },
  mass: { offer: 'kg t g', print: 'mg g kg t@10' },
  force: { offer: 'N kN', print: 'mN N kN MN' },
  pressure: { offer: 'bar kPa Pa', print: 'Pa kPa bar' },
  speed: { offer: 'm/s km/h', print: 'mm/s m/s@0.1' },
  time: { offer: 's min h ms d a µs', print: 'ns µs ms s min@2 h@2 d@3 a@2' },
  frequency: { offer: 'Hz kHz', print: 'µHz mHz Hz kHz MHz GHz' },
  voltage: { offer: 'V kV mV', print: 'nV µV mV V kV@2' },
  voltage_slope: { offer: 'V/s V/µs kV/µs', print: 'V/s V/ms V/µs' },
  current: { offer: 'A kA mA', print: 'nA µA mA A kA@3' },
  current_slope: { offer: 'A/s A/ms A/µs', print: 'A/s A/ms A/µs' },
  current_density: { offer: 'A/mm² A/cm²', print: 'A/m² A/mm²@0.01' },
  charge: { offer: 'Ah kAh mAh C', print: 'nC µC mC C Ah@0.1 kAh@10' },
  let_through: { offer: 'A²*s kA²*s', print: 'A²*s kA²*s' },
  resistance: { offer: 'mΩ Ω µΩ kΩ MΩ', print: 'nΩ µΩ mΩ Ω kΩ MΩ GΩ' },
  conductance: { offer: 'S mS µS', print: 'nS µS mS S kS' },
  inductance: { offer: 'µH mH H', print: 'nH µH mH H' },
  capacitance: { offer: 'µF mF F nF', print: 'pF nF µF mF F' },
  resistance_per_length: { offer: 'Ω/km mΩ/m', print: 'Ω/km' },
  inductance_per_length: { offer: 'mH/km µH/m', print: 'mH/km' },
  capacitance_per_length: { offer: 'µF/km nF/m', print: 'nF/km µF/km@0.1' },
  resistivity: { offer: 'Ω*mm²/m Ω*m', print: 'Ω*mm²/m Ω*m' },
  active_power: { offer: 'kW MW W', print: 'nW µW mW W kW MW GW' },
  reactive_power: { offer: 'kvar Mvar var', print: 'mvar var kvar Mvar Gvar' },
  apparent_power: { offer: 'kVA MVA VA', print: 'mVA VA kVA MVA GVA' },
  power: { offer: 'V*A', print: 'V*A' },
  power_slope: { offer: 'kW/s kW/min MW/min', print: 'W/s kW/s MW/s' },
  energy: { offer: 'kWh MWh Wh kJ J', print: 'nJ µJ mJ J kJ kWh@0.1 MWh GWh' },
  reactive_energy: { offer: 'kvarh Mvarh varh', print: 'varh kvarh Mvarh Gvarh' },
  apparent_energy: { offer: 'kVAh MVAh VAh', print: 'VAh kVAh MVAh GVAh' },
  temperature: { offer: '°C', print: '°C' },
  temperature_difference: { offer: 'K', print: 'mK K@0.1' },
  temperature_coefficient: { offer: '%/K ppm/K 1/K', print: 'ppm/K %/K@0.01' },
  thermal_resistance: { offer: 'K/W mK/W K/kW', print: 'mK/W K/W@0.1' },
  thermal_conductance: { offer: 'W/K kW/K', print: 'mW/K W/K kW/K' },
  thermal_resistivity: { offer: 'K*m/W', print: 'K*m/W' },
  heat_capacity: { offer: 'kJ/K J/K', print: 'J/K kJ/K MJ/K GJ/K' },
};

/** Per what prices are usual; the unit printed below the stroke. */
const priceBases: readonly [Dimension, string][] = [
  [dimensions.energy, 'kWh'],
  [dimensions.active_power, 'kW'],
  [dimensions.apparent_power, 'kVA'],
  [dimensions.reactive_power, 'kvar'],
  [dimensions.reactive_energy, 'kvarh'],
  [dimensions.time, 'h'],
  [dimensions.length, 'm'],
];

const offered = new Map<Dimension, readonly Unit[]>();
const printed = new Map<Dimension, readonly PrintUnit[]>();

/** Units worth offering for a dimension, the most usual first; empty where a plain number is wanted. */
export function unitsOf(dimension: Dimension): readonly Unit[] {
  const known = offered.get(dimension);
  if (known !== undefined) return known;
  const units = offerFor(dimension)
    .map(unitNamed)
    .filter(unit => unit !== undefined);
  offered.set(dimension, units);
  return units;
}

/** Units for output, rising, never empty. Chosen by dimension and magnitude alone, so a value looks the same everywhere. */
export function printUnitsOf(dimension: Dimension): readonly PrintUnit[] {
  const known = printed.get(dimension);
  if (known !== undefined) return known;
  const units = printFor(dimension)
    .map(printUnit)
    .filter(each => each !== undefined);
  printed.set(dimension, units);
  return units;
}

function offerFor(dimension: Dimension): readonly string[] {
  if (dimension === dimensions.money) return ['EUR', 'CHF', 'USD', 'GBP'];
  return choiceFor(dimension)?.offer.split(' ').filter(Boolean) ?? [priceUnit(dimension) ?? dimension.unit];
}

function printFor(dimension: Dimension): readonly string[] {
  return choiceFor(dimension)?.print.split(' ') ?? [priceUnit(dimension) ?? (dimension.unit || '1')];
}

let byDimension: ReadonlyMap<Dimension, Choice> | undefined;

function choiceFor(dimension: Dimension): Choice | undefined {
  byDimension ??= new Map(Object.entries(choices).map(([name, choice]) => [named(name), choice]));
  return byDimension.get(dimension);
}

function named(name: string): Dimension {
  for (const [each, dimension] of Object.entries(dimensions)) if (each === name) return dimension;
  return dimensions.ratio;
}

function priceUnit(dimension: Dimension): string | undefined {
  const [currency, ...others] = dimension.currencies;
  if (currency === undefined || others.length > 0) return undefined;
  const amount = moneyOf(currency.code);
  const base = priceBases.find(([each]) => divide(amount, each) === dimension);
  return base === undefined ? undefined : `${currency.code}/${base[1]}`;
}

function printUnit(text: string): PrintUnit | undefined {
  const [symbol = '', from = '1'] = text.split('@');
  const unit = unitNamed(symbol);
  return unit === undefined ? undefined : { unit, from: Number(from) * unit.factor };
}

function unitNamed(text: string): Unit | undefined {
  const reading = readUnit(text);
  return reading.ok ? reading.unit : undefined;
}
