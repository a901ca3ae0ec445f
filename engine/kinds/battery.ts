// The kind `battery`: equal strings of cells in parallel.
import type { CurveAxis, Kind, Property } from './kind.ts';
import { commonPractice, notNegative, orderFacts, positive, share, temperatureBounds } from './shared.ts';

const socAxis: CurveAxis = { name: 'soc', dimension: 'ratio', least: 0, greatest: 1 };
const temperatureAxis: CurveAxis = { name: 'temperature', dimension: 'temperature' };
const currentAxis: CurveAxis = { name: 'current', dimension: 'current' };

const build: readonly Property[] = [
  {
    name: 'chemistry',
    meaning: 'Chemistry of the cells; where no curve is stated, the published one of the chemistry is taken, visibly.',
    type: { is: 'choice', choices: ['lfp', 'nmc', 'lead_acid'] },
    need: 'optional',
    otherwise: 'No curve is taken from it.',
    example: 'lfp',
  },
  {
    name: 'cells_in_series',
    meaning: 'Number of cells in series in one string; cells in parallel within a string count as one.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      whole: true,
      least: { value: 1, exclusive: false },
    },
    need: 'required',
    example: '224',
  },
  {
    name: 'strings',
    meaning: 'Number of equal strings in parallel.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      whole: true,
      least: { value: 1, exclusive: false },
    },
    need: 'expected',
    fallback: { text: '1', reason: 'a battery of one string' },
    example: '4',
  },
];

const content: readonly Property[] = [
  {
    name: 'capacity',
    meaning:
      'Charge that one string of new cells delivers from full to empty, as one value or over its discharge current.',
    type: { is: 'quantity', dimension: 'charge', forms: ['number', 'curve'], axes: [currentAxis], ...positive },
    need: 'required',
    example: '280 Ah',
  },
  {
    name: 'soc',
    meaning: 'Span of the state of charge that operation uses, as shares of the capacity as it is now.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['range'], ...share },
    need: 'required',
    example: '10 % .. 90 %',
  },
  {
    name: 'lowest_connected',
    meaning:
      'Lowest state of charge, or lowest voltage at rest of one string, at which its contactors may still be closed.',
    type: { is: 'quantity', dimension: 'ratio', or: ['voltage'], forms: ['number'], ...share },
    need: 'optional',
    otherwise: 'The bottom of the span `soc` is taken, and it is asked when the contactors open.',
    example: '0 %',
  },
  {
    name: 'state_of_health',
    meaning: 'Capacity as it is now divided by the capacity when new; it scales the capacity and nothing else.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      ...positive,
      greatest: { value: 1.2, exclusive: false },
    },
    need: 'expected',
    fallback: { text: '100 %', reason: 'a new battery; a worn one is a case of its own' },
    example: '80 %',
  },
];

const voltages: readonly Property[] = [
  {
    name: 'open_circuit_voltage',
    meaning: 'Voltage at rest over the state of charge, of one string unless `per cell` follows.',
    type: {
      is: 'quantity',
      dimension: 'voltage',
      forms: ['curve'],
      axes: [socAxis],
      per: true,
      neverFalls: true,
      ...positive,
    },
    need: 'optional',
    otherwise:
      'A straight line through the window `voltage` is taken, which is false for flat chemistries; without a window the published curve of the `chemistry`.',
    example: 'curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }',
  },
  {
    name: 'voltage',
    meaning: 'Window of the voltage at rest of one string, from empty to full, where no curve is known.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
    need: 'optional',
    example: '600 V .. 760 V',
  },
  {
    name: 'voltage_limits',
    meaning: 'Least and greatest voltage under load, of one string unless `per cell` follows.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['range'], per: true, ...positive },
    need: 'optional',
    otherwise: 'The voltage under load is not limited by the battery.',
    example: '2.80 V .. 3.60 V per cell',
  },
  {
    name: 'least_voltage',
    meaning:
      'Least voltage under load over state of charge and temperature, in place of the lower of `voltage_limits`.',
    type: {
      is: 'quantity',
      dimension: 'voltage',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      per: true,
      ...positive,
    },
    need: 'optional',
    otherwise: 'The lower of `voltage_limits` holds throughout.',
    example: 'curve temperature per cell { -20 °C 2.0 V, 0 °C 2.5 V, 25 °C 2.8 V }',
  },
  {
    name: 'greatest_voltage',
    meaning:
      'Greatest voltage under load over state of charge and temperature, in place of the upper of `voltage_limits`.',
    type: {
      is: 'quantity',
      dimension: 'voltage',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      per: true,
      ...positive,
    },
    need: 'optional',
    otherwise: 'The upper of `voltage_limits` holds throughout.',
    example: 'curve temperature per cell { 0 °C 3.50 V, 25 °C 3.60 V }',
  },
];

const resistances: readonly Property[] = [
  {
    name: 'resistance',
    meaning: 'Internal resistance of one string over a duty, as one value or over state of charge and temperature.',
    type: {
      is: 'quantity',
      dimension: 'resistance',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      ...positive,
      greatest: { value: 1000, exclusive: false },
    },
    need: 'required',
    example: 'curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
  },
  {
    name: 'resistance_growth',
    meaning: 'Resistance over temperature as a ratio of a `resistance` that is stated as one for all temperatures.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['curve'],
      axes: [temperatureAxis],
      ...positive,
    },
    need: 'optional',
    otherwise:
      'The customary growth of the `chemistry` from 25 °C on is taken (common practice, no source); without a chemistry none.',
    example: 'curve temperature { 0 °C 200 %, 25 °C 100 %, 45 °C 85 % }',
  },
  {
    name: 'fault_resistance',
    meaning: 'Internal resistance of one string in the first milliseconds of a short circuit.',
    type: { is: 'quantity', dimension: 'resistance', forms: ['number'], ...positive },
    need: 'optional',
    example: '90 mΩ',
    notEvaluated: true,
  },
  {
    name: 'temperature',
    meaning: 'Temperature of the cells.',
    type: { is: 'quantity', dimension: 'temperature', forms: ['number'], ...temperatureBounds },
    need: 'expected',
    fallback: { text: '25 °C', reason: `${commonPractice}: the temperature of most cell data sheets` },
    example: '15 °C',
  },
];

const currents: readonly Property[] = [
  {
    name: 'discharge_current',
    meaning: 'Greatest lasting discharge current of one string, as one value or over state of charge and temperature.',
    type: {
      is: 'quantity',
      dimension: 'current',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      ...notNegative,
    },
    need: 'optional',
    otherwise: 'The discharge current is not limited by the battery.',
    example: '280 A',
  },
  {
    name: 'charge_current',
    meaning: 'Greatest lasting charge current of one string, as one value or over state of charge and temperature.',
    type: {
      is: 'quantity',
      dimension: 'current',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      ...notNegative,
    },
    need: 'optional',
    otherwise: 'The charge current is not limited by the battery.',
    example: 'curve temperature smooth { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }',
  },
  {
    name: 'pulse_discharge_current',
    meaning: 'Greatest discharge current of one string for a short time, and how often (`every`, from start to start).',
    type: {
      is: 'quantity',
      dimension: 'current',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      clauses: { for: 'time', every: 'time' },
      clausesNeeded: ['for'],
      ...notNegative,
    },
    need: 'optional',
    otherwise: 'The lasting current `discharge_current` holds for short times too.',
    example: '420 A for 30 s every 10 min',
  },
  {
    name: 'pulse_charge_current',
    meaning: 'Greatest charge current of one string for a short time, and how often (`every`, from start to start).',
    type: {
      is: 'quantity',
      dimension: 'current',
      forms: ['number', 'curve'],
      axes: [socAxis, temperatureAxis],
      clauses: { for: 'time', every: 'time' },
      clausesNeeded: ['for'],
      ...notNegative,
    },
    need: 'optional',
    otherwise: 'The lasting current `charge_current` holds for short times too.',
    example: '200 A for 30 s every 10 min',
  },
  {
    name: 'string_spread',
    meaning: 'Greatest excess of the current of one string over the mean of all strings, as a ratio of the mean.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'The strings are taken to share the current equally.',
    example: '8 %',
  },
];

const upkeep: readonly Property[] = [
  {
    name: 'auxiliary_power',
    meaning: 'Power that monitoring, cooling and heating of the whole battery draw lastingly.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...notNegative },
    need: 'optional',
    fallback: { text: '0 W', reason: 'left out unless stated' },
    example: '2 kW',
  },
  {
    name: 'throughput_warranty',
    meaning: 'Energy that the whole battery may deliver over its life before the warranty ends.',
    type: { is: 'quantity', dimension: 'energy', forms: ['number'], ...positive },
    need: 'optional',
    example: '3 GWh',
  },
  {
    name: 'warranty_cycles',
    meaning: 'Full uses of the state-of-charge span after which the warranty ends.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positive },
    need: 'optional',
    example: '6000',
  },
  {
    name: 'warranty_time',
    meaning: 'Time after which the warranty ends, used or not.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    example: '10 a',
  },
];

export const battery: Kind = {
  name: 'battery',
  meaning: 'A battery of equal strings in parallel, each of them cells in series behind its own contactors.',
  role: 'store',
  properties: [...build, ...content, ...voltages, ...resistances, ...currents, ...upkeep, ...orderFacts],
  oneOf: [['open_circuit_voltage', 'voltage']],
  snippet: `battery \${1:B1} {
  chemistry = \${2|lfp,nmc,lead_acid|}
  cells_in_series = \${3:224}
  strings = \${4:4}
  capacity = \${5:280 Ah}
  open_circuit_voltage = curve soc per cell {
      0 %  2.60 V
     10 %  3.20 V
     50 %  3.29 V
     90 %  3.34 V
    100 %  3.40 V
  }
  voltage_limits = \${6:2.80 V} .. \${7:3.60 V} per cell
  resistance = \${8:0.14 Ω}
  soc = \${9:10 %} .. \${10:90 %}
  lowest_connected = \${11:0 %}
  discharge_current = \${12:280 A}
  charge_current = \${13:140 A}
}
`,
};
