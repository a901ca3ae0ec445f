// Plants at random, as facts that make a text: of every size between 230 V and 1 kV, sound or not.
import fc from 'fast-check';
import { evenly } from './evenly.ts';

export interface PlantFacts {
  readonly altitude: number | undefined;
  readonly ambient: readonly [number, number];
  readonly network: number;
  readonly tolerance: number | undefined;
  readonly frequency: 50 | 60;
  readonly faultPower: readonly [number, number] | undefined;
  readonly temporaryOvervoltage: number | undefined;
  readonly unbalance: number | undefined;
  readonly cables: boolean;
  readonly transformer: TransformerFacts | undefined;
  readonly filter: FilterFacts | undefined;
  readonly converter: ConverterFacts;
  readonly battery: BatteryFacts;
  /** Equal converters, each with a filter and a battery of its own, on one winding. */
  readonly units: 1 | 2;
  readonly duties: readonly DutyFacts[];
  readonly cases: readonly (keyof typeof caseTexts)[];
  readonly rules: readonly (keyof typeof ruleTexts)[];
  readonly demands: readonly (keyof typeof demandTexts)[];
}

export interface TransformerFacts {
  /** VA; undefined picks a preferred rating. */
  readonly rating: number | undefined;
  /** Winding at the converter as a ratio of the network's voltage. */
  readonly winding: number;
  readonly impedance: number;
  readonly losses: 'assumed' | 'watts' | 'ratio';
  readonly tap: number | undefined;
  readonly neutral: 'floating' | 'earthed' | undefined;
}

export interface FilterFacts {
  readonly inductance: number;
  readonly capacitance: number;
  readonly networkInductance: number | undefined;
  readonly damping: number | undefined;
  readonly delta: boolean;
}

export interface ConverterFacts {
  readonly current: number;
  readonly switching: number;
  readonly losses: keyof typeof converterLosses;
  readonly modulation: 'sine' | 'third_harmonic' | undefined;
  readonly openingTime: number | undefined;
}

export interface BatteryFacts {
  /** Cells as a ratio of those with which 3 V a cell make the crest of the winding's voltage. */
  readonly cells: number;
  readonly strings: number;
  readonly capacity: number;
  /** Shifts the foot of the curve, V a cell; undefined states a window only. */
  readonly foot: number | undefined;
  /** Ohm for each cell. */
  readonly resistance: number;
  readonly resistanceOver: 'nothing' | 'temperature' | 'soc';
  readonly span: readonly [number, number];
  readonly lowestConnected: number | undefined;
  /** Times the capacity in an hour; undefined states no limit. */
  readonly rate: number | undefined;
  readonly temperature: number | undefined;
  readonly limits: boolean;
}

export interface DutyFacts {
  readonly way: 'discharge' | 'charge';
  readonly power: number;
  readonly minutes: number | undefined;
  readonly powerFactor: number | undefined;
  readonly direction: '' | ' delivering' | ' absorbing';
  readonly at: '' | 'MAIN' | 'K1' | 'B1';
  readonly span: readonly [number, number] | undefined;
  readonly within: number | undefined;
}

const caseTexts = {
  worn: 'case worn { B1.state_of_health = 80 %, B1.resistance = 1.5 * B1.resistance }',
  winter: 'case winter { B1.temperature = 8 °C }',
  weak: 'case weak { MAIN.voltage = 0.97 * MAIN.voltage }',
  string_lost: 'case string_lost { B1.strings = 1 }',
} as const;

const ruleTexts = {
  spare: 'transformer_spare = 10 %',
  margin: 'control_margin = 15 %',
  worst: 'control_margin_worst = 6 %',
  diode: 'diode_margin = 5 %',
  loading: 'converter_loading = 90 %',
  source: 'require_source = yes',
} as const;

const demandTexts = {
  loading: 'require K1.loading <= 95 %',
  time: 'require long_enough: B1.discharge_time >= 20 min because "a morning"',
  voltage: 'require MAIN.voltage_high / MAIN.voltage_low <= 1.3',
  accept: 'accept converter_loading on K1 up to 120 % until 2027-06-30 because "short"',
} as const;

const converterLosses = {
  assumed: '',
  number: 'efficiency = 97.5 %',
  curve: 'efficiency = curve load { 5 % 90 %, 50 % 98 %, 120 % 97 % }',
  polynomial: 'fixed_loss = 400 W, linear_loss = 3 V, quadratic_loss = 2 mΩ',
} as const;

/** Nine digits: enough that two texts differ where the numbers do. */
const write = (value: number): string => String(Number(value.toPrecision(9)));

/** One declaration each, so that their order may be changed. */
export function declarationsOf(facts: PlantFacts): readonly string[] {
  const { transformer, duties, cases, rules, demands, units } = facts;
  return [
    siteText(facts),
    gridText(facts),
    ...(facts.cables ? ['cable W1 { length = 40 m, cross_section = 185 mm², parallel = 2 }'] : []),
    ...(transformer === undefined ? [] : [transformerText(facts, transformer)]),
    ...Array.from({ length: units }, (_, index) => unitTexts(facts, index + 1)).flat(),
    ...(rules.length === 0 ? [] : [`practice House {\n${lines(rules.map(rule => ruleTexts[rule]))}}`]),
    ...connectTexts(facts),
    ...duties.map((duty, index) => dutyText(facts, duty, index + 1)),
    ...cases.map(name => caseTexts[name]),
    ...demands.map(name => demandTexts[name]),
  ];
}

export function plantText(facts: PlantFacts): string {
  return `${declarationsOf(facts).join('\n\n')}\n`;
}

function siteText({ altitude, ambient, rules }: PlantFacts): string {
  const [low, high] = ambient;
  return `plant Random {\n${lines([
    altitude === undefined ? '' : `altitude = ${write(altitude)} m`,
    `ambient = ${low} °C .. ${high} °C`,
    rules.length === 0 ? '' : 'follows = House',
  ])}}`;
}

function gridText(facts: PlantFacts): string {
  const { network, tolerance, frequency, faultPower, temporaryOvervoltage, unbalance } = facts;
  return `grid MAIN {\n${lines([
    `voltage = ${write(network)} V${tolerance === undefined ? '' : ` ± ${write(tolerance)} %`}`,
    `frequency = ${frequency} Hz ± 1 %`,
    faultPower === undefined ? '' : `fault_power = ${write(faultPower[0])} MVA .. ${write(faultPower[1])} MVA`,
    temporaryOvervoltage === undefined ? '' : `temporary_overvoltage = ${write(temporaryOvervoltage)} %`,
    unbalance === undefined ? '' : `unbalance = ${write(unbalance)} %`,
  ])}}`;
}

/** VA on which all sizes are made: what the first duty asks. */
function sizeOf({ duties }: PlantFacts): number {
  return duties[0]!.power / 0.9;
}

function windingOf({ network, transformer }: PlantFacts): number {
  return transformer === undefined ? network : network * transformer.winding;
}

function transformerText(facts: PlantFacts, transformer: TransformerFacts): string {
  const { rating, impedance, losses, tap, neutral } = transformer;
  const power = rating === undefined ? sizeOf(facts) : rating * sizeOf(facts);
  const loss = { assumed: '', watts: `load_loss = ${write(0.012 * power)} W`, ratio: 'load_loss = 1.3 %' }[losses];
  return `transformer T1 {\n${lines([
    `rated_power = ${rating === undefined ? 'pick' : `${write(power / 1000)} kVA`}`,
    `primary_voltage = ${write(facts.network)} V`,
    `secondary_voltage = ${write(windingOf(facts))} V`,
    `impedance = ${write(impedance)} % ± 10 %`,
    rating === undefined ? 'load_loss = 1.2 %' : loss,
    tap === undefined ? '' : `tap = ${tap} %`,
    neutral === undefined ? '' : `neutral = ${neutral}`,
  ])}}`;
}

function unitTexts(facts: PlantFacts, number: number): readonly string[] {
  const { filter } = facts;
  return [
    ...(filter === undefined ? [] : [filterText(facts, filter, number)]),
    converterText(facts, number),
    ...(facts.cables ? [`cable W${number + 1} { length = 15 m, cross_section = 150 mm², parallel = 2 }`] : []),
    batteryText(facts, number),
  ];
}

/** Of the base impedance and admittance at the winding, so that a filter suits its converter more or less. */
function filterText(facts: PlantFacts, filter: FilterFacts, number: number): string {
  const omega = 2 * Math.PI * facts.frequency;
  const base = (windingOf(facts) ** 2 * facts.units) / sizeOf(facts);
  return `filter F${number} {\n${lines([
    `converter_inductance = ${write((1e6 * filter.inductance * base) / omega)} µH`,
    `capacitance = ${write((1e6 * filter.capacitance) / (omega * base))} µF`,
    filter.delta ? 'connection = delta' : '',
    filter.networkInductance === undefined
      ? ''
      : `network_inductance = ${write((1e6 * filter.networkInductance * base) / omega)} µH`,
    filter.damping === undefined ? '' : `damping_resistance = ${write(1000 * filter.damping * base)} mΩ`,
  ])}}`;
}

function crestOf(facts: PlantFacts): number {
  return Math.SQRT2 * windingOf(facts);
}

function converterText(facts: PlantFacts, number: number): string {
  const { current, switching, losses, modulation, openingTime } = facts.converter;
  const rated = (current * sizeOf(facts)) / (Math.sqrt(3) * windingOf(facts) * facts.units);
  const crest = crestOf(facts);
  return `converter K${number} {\n${lines([
    `ac_current = ${write(rated)} A`,
    `dc_voltage = ${write(0.8 * crest)} V .. ${write(1.8 * crest)} V`,
    `switching_frequency = ${switching} kHz`,
    converterLosses[losses],
    modulation === undefined ? '' : `modulation = ${modulation}`,
    openingTime === undefined ? '' : `opening_time = ${openingTime} ms`,
  ])}}`;
}

function batteryText(facts: PlantFacts, number: number): string {
  const { battery } = facts;
  const cells = Math.max(1, Math.round((battery.cells * crestOf(facts)) / 3));
  const energy = sizeOf(facts) / facts.units;
  const capacity = (battery.capacity * energy) / (cells * 3.2 * battery.strings);
  const ohms = (battery.resistance * cells * 280) / capacity;
  const [bottom, top] = battery.span;
  const limit = battery.rate === undefined ? undefined : battery.rate * capacity;
  return `battery B${number} {\n${lines([
    `cells_in_series = ${cells}`,
    `strings = ${battery.strings}`,
    `capacity = ${write(capacity)} Ah`,
    restText(battery, cells),
    battery.limits ? 'voltage_limits = 2.60 V .. 3.65 V per cell' : '',
    resistanceText(battery, ohms),
    `soc = ${write(bottom)} % .. ${write(top)} %`,
    battery.lowestConnected === undefined ? '' : `lowest_connected = ${write(battery.lowestConnected * bottom)} %`,
    limit === undefined ? '' : `discharge_current = ${write(limit)} A`,
    limit === undefined
      ? ''
      : `charge_current = curve temperature { 0 °C 0 A, 25 °C ${write(limit)} A, 45 °C ${write(limit)} A }`,
    battery.temperature === undefined ? '' : `temperature = ${battery.temperature} °C`,
  ])}}`;
}

function restText({ foot }: BatteryFacts, cells: number): string {
  if (foot === undefined) return `voltage = ${write(2.9 * cells)} V .. ${write(3.4 * cells)} V`;
  const points = [
    [0, 2.6 + foot],
    [10, 3.2],
    [50, 3.29],
    [90, 3.34],
    [100, 3.4],
  ] as const;
  return `open_circuit_voltage = curve soc per cell { ${points.map(([soc, volts]) => `${soc} % ${write(volts)} V`).join(', ')} }`;
}

function resistanceText({ resistanceOver }: BatteryFacts, ohms: number): string {
  switch (resistanceOver) {
    case 'nothing':
      return `resistance = ${write(ohms)} Ω`;
    case 'temperature':
      return `resistance = curve temperature { 0 °C ${write(2 * ohms)} Ω, 25 °C ${write(ohms)} Ω, 45 °C ${write(0.9 * ohms)} Ω }`;
    case 'soc':
      return `resistance = curve soc { 0 % ${write(1.4 * ohms)} Ω, 50 % ${write(ohms)} Ω, 100 % ${write(1.1 * ohms)} Ω }`;
  }
}

function connectTexts({ cables, transformer, filter, units }: PlantFacts): readonly string[] {
  const head = ['MAIN', ...(cables ? ['W1'] : []), ...(transformer === undefined ? [] : ['T1'])];
  const tail = (number: number) => [
    ...(filter === undefined ? [] : [`F${number}`]),
    `K${number}`,
    ...(cables ? [`W${number + 1}`] : []),
    `B${number}`,
  ];
  if (units === 1) return [`connect ${[...head, ...tail(1)].join(' -> ')}`];
  return [
    'bus N1 {}',
    `connect ${[...head, 'N1'].join(' -> ')}`,
    ...[1, 2].map(number => `connect ${['N1', ...tail(number)].join(' -> ')}`),
  ];
}

function dutyText(facts: PlantFacts, duty: DutyFacts, number: number): string {
  const { way, power, minutes, powerFactor, direction, at, span, within } = duty;
  // Of a plant of two units what is asked at one of them is its half.
  const asked = at === 'K1' || at === 'B1' ? power / facts.units : power;
  return `duty d${number} {\n${lines([
    `${way} = ${write(asked / 1000)} kW${minutes === undefined ? '' : ` for ${write(minutes)} min`}`,
    powerFactor === undefined || at === 'B1' ? '' : `power_factor = ${powerFactor}${direction}`,
    at === '' ? '' : `at = ${at}`,
    span === undefined ? '' : `soc = ${write(span[0])} % .. ${write(span[1])} %`,
    within === undefined ? '' : `voltage = ${write(facts.network)} V ± ${write(within)} %`,
  ])}}`;
}

function lines(properties: readonly string[]): string {
  return properties.map(property => (property === '' ? '' : `  ${property}\n`)).join('');
}

const maybe = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(value, { nil: undefined });
const span = (low: fc.Arbitrary<number>, high: fc.Arbitrary<number>) => fc.tuple(low, high);

const someTransformer: fc.Arbitrary<TransformerFacts> = fc.record({
  rating: fc.oneof({ weight: 6, arbitrary: evenly(0.8, 2) }, { weight: 1, arbitrary: fc.constant(undefined) }),
  winding: evenly(0.7, 1.1),
  impedance: evenly(3, 12),
  losses: fc.constantFrom('assumed', 'watts', 'ratio'),
  tap: maybe(fc.constantFrom(-5, 2.5, 5)),
  neutral: maybe(fc.constantFrom('floating', 'earthed')),
});

const someFilter: fc.Arbitrary<FilterFacts> = fc.record({
  inductance: evenly(0.03, 0.2),
  capacitance: evenly(0.01, 0.15),
  networkInductance: maybe(evenly(0.01, 0.1)),
  damping: maybe(evenly(0.01, 0.3)),
  delta: fc.boolean(),
});

const someConverter: fc.Arbitrary<ConverterFacts> = fc.record({
  current: evenly(0.9, 2),
  switching: fc.constantFrom(2.5, 4, 8, 16),
  losses: fc.constantFrom('assumed', 'number', 'curve', 'polynomial'),
  modulation: maybe(fc.constantFrom('sine', 'third_harmonic')),
  openingTime: maybe(fc.constantFrom(40, 120)),
});

const someBattery: fc.Arbitrary<BatteryFacts> = fc.record({
  cells: evenly(1, 1.6),
  strings: fc.integer({ min: 1, max: 6 }),
  capacity: evenly(0.5, 4),
  foot: maybe(evenly(-0.3, 0.3)),
  resistance: evenly(0.2e-3, 1e-3),
  resistanceOver: fc.constantFrom('nothing', 'temperature', 'soc'),
  span: span(evenly(2, 30), evenly(70, 98)),
  lowestConnected: maybe(evenly(0, 1)),
  rate: maybe(evenly(0.5, 3)),
  temperature: maybe(fc.integer({ min: 5, max: 40 })),
  limits: fc.boolean(),
});

const someDuty: fc.Arbitrary<DutyFacts> = fc.record({
  way: fc.constantFrom('discharge', 'charge'),
  power: evenly(50e3, 900e3),
  minutes: maybe(evenly(1, 120)),
  powerFactor: maybe(fc.constantFrom(1, 0.98, 0.95, 0.9)),
  direction: fc.constantFrom('', ' delivering', ' absorbing'),
  at: fc.constantFrom('', 'MAIN', 'K1', 'B1'),
  span: maybe(span(evenly(5, 30), evenly(70, 95))),
  within: maybe(evenly(1, 12)),
});

export const somePlant: fc.Arbitrary<PlantFacts> = fc.record({
  altitude: maybe(evenly(0, 3500)),
  ambient: fc.constantFrom([5, 40], [-20, 35], [0, 50]),
  network: fc.oneof(fc.constantFrom(230, 400, 415, 480, 690, 1000), evenly(230, 1000)),
  tolerance: maybe(evenly(1, 15)),
  frequency: fc.constantFrom(50, 60),
  faultPower: maybe(span(evenly(5, 20), evenly(20, 100))),
  temporaryOvervoltage: maybe(evenly(100, 130)),
  unbalance: maybe(evenly(0, 3)),
  cables: fc.boolean(),
  transformer: fc.oneof({ weight: 4, arbitrary: someTransformer }, { weight: 1, arbitrary: fc.constant(undefined) }),
  filter: fc.oneof({ weight: 4, arbitrary: someFilter }, { weight: 1, arbitrary: fc.constant(undefined) }),
  converter: someConverter,
  battery: someBattery,
  units: fc.constantFrom(1, 1, 2),
  duties: fc.array(someDuty, { minLength: 1, maxLength: 3 }),
  cases: fc.uniqueArray(fc.constantFrom('worn', 'winter', 'weak', 'string_lost'), { maxLength: 3 }),
  rules: fc.uniqueArray(fc.constantFrom('spare', 'margin', 'worst', 'diode', 'loading', 'source'), { maxLength: 3 }),
  demands: fc.uniqueArray(fc.constantFrom('loading', 'time', 'voltage', 'accept'), { maxLength: 3 }),
});
