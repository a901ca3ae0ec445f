// The kind `duty`: what the plant has to deliver or take up.
import type { Kind, Property } from './kind.ts';
import { commonPractice, notNegative, positive, positiveShare, share } from './shared.ts';

const power: readonly Property[] = [
  {
    name: 'discharge',
    meaning:
      'Active power that the plant delivers, measured where `at` says; `for` a time and `every` period may follow.',
    type: {
      is: 'quantity',
      dimension: 'active_power',
      forms: ['number'],
      clauses: { for: 'time', every: 'time' },
      ...positive,
    },
    need: 'optional',
    example: '400 kW for 45 min',
  },
  {
    name: 'charge',
    meaning:
      'Active power that the plant takes up, measured where `at` says; `for` a time and `every` period may follow.',
    type: {
      is: 'quantity',
      dimension: 'active_power',
      forms: ['number'],
      clauses: { for: 'time', every: 'time' },
      ...positive,
    },
    need: 'optional',
    example: '250 kW for 90 s every 15 min',
  },
  {
    name: 'profile',
    meaning: 'File with the power over time, inside the workspace.',
    type: { is: 'text' },
    need: 'optional',
    example: '"winter-day.csv"',
    notEvaluated: true,
  },
];

const timing: readonly Property[] = [
  {
    name: 'duration',
    meaning: 'Time for which the power lasts; `for` behind the power says the same.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The power must last, as far as the state of charge goes.',
    example: '45 min',
  },
  {
    name: 'repeat',
    meaning: 'Time after which the power comes again, from start to start; `every` behind the power says the same.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'The power comes once.',
    example: '15 min',
  },
];

const reactivePower: readonly Property[] = [
  {
    name: 'power_factor',
    meaning: 'Active by apparent power where `at` says; both reactive directions must hold unless one is named.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      clauses: { delivering: undefined, absorbing: undefined },
      ...positiveShare,
    },
    need: 'optional',
    fallback: { text: '1', reason: 'no reactive power is asked for' },
    example: '0.95',
  },
  {
    name: 'reactive',
    meaning: 'Reactive power where `at` says, positive when delivered to the network, in place of a power factor.',
    type: { is: 'quantity', dimension: 'reactive_power', forms: ['number'] },
    need: 'optional',
    otherwise: 'It follows from `power_factor`.',
    example: '120 kvar',
  },
];

const conditions: readonly Property[] = [
  {
    name: 'at',
    meaning: 'Component at whose terminals the power is measured.',
    type: { is: 'reference', kinds: ['grid', 'transformer', 'converter', 'battery', 'bus'] },
    need: 'optional',
    otherwise: 'The grid of the chain is taken.',
    example: 'MAIN',
  },
  {
    name: 'soc',
    meaning: 'Span of the state of charge over which the duty must hold.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['range'], ...share },
    need: 'optional',
    otherwise: 'The span `soc` of the battery is taken.',
    example: '20 % .. 90 %',
  },
  {
    name: 'voltage',
    meaning: 'Span of the network voltage inside which the duty must hold in full, line to line rms.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['range', 'tolerance'], ...positive },
    need: 'optional',
    otherwise:
      'The voltage band of the grid is taken; while forming, its nominal voltage alone, which the plant holds.',
    example: '380 V .. 420 V',
  },
  {
    name: 'lost',
    meaning:
      'What is out of service while the duty must still hold: one string of every battery, or the largest converter.',
    type: { is: 'choice', choices: ['none', 'string', 'unit'] },
    need: 'optional',
    fallback: { text: 'none', reason: 'the whole plant is in service' },
    example: 'string',
  },
  {
    name: 'mode',
    meaning:
      'Whether the plant follows the voltage of a network, or forms the voltage of an island itself while the network is away.',
    type: { is: 'choice', choices: ['following', 'forming'] },
    need: 'optional',
    fallback: { text: 'following', reason: 'a network stands at the connection' },
    example: 'forming',
  },
];

/** What an island asks of the converter that forms its voltage, beyond the lasting power. */
const island: readonly Property[] = [
  {
    name: 'load_step',
    meaning: 'Active power of the largest load that is switched on at once while forming, at the connection point.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'Load steps are not judged.',
    example: '60 kW',
  },
  {
    name: 'load_step_power_factor',
    meaning: 'Active by apparent power of the load step, which takes up reactive power.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positiveShare },
    need: 'optional',
    fallback: { text: '0.8', reason: commonPractice },
    example: '0.85',
  },
  {
    name: 'motor_start',
    meaning: 'Rated shaft power of the largest motor that is started while forming.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: 'Motor starts are not judged.',
    example: '30 kW',
  },
  {
    name: 'start_current_ratio',
    meaning: 'Current of the motor at standstill and rated voltage, as a ratio of its rated current.',
    type: {
      is: 'quantity',
      dimension: 'count',
      forms: ['number'],
      ...positive,
      greatest: { value: 20, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '6', reason: `${commonPractice}: switched straight on; about 3.5 with a soft starter` },
    example: '3.5',
  },
  {
    name: 'start_power_factor',
    meaning: 'Active by apparent power of the motor at standstill.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positiveShare },
    need: 'optional',
    fallback: { text: '0.3', reason: commonPractice },
    example: '0.35',
  },
  {
    name: 'start_time',
    meaning: 'Time for which the starting current of the motor lasts.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    fallback: { text: '5 s', reason: commonPractice },
    example: '3 s',
  },
  {
    name: 'motor_efficiency',
    meaning: 'Shaft power divided by the electric power of the motor, at rated load.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...positiveShare },
    need: 'optional',
    fallback: { text: '92 %', reason: commonPractice },
    example: '94 %',
  },
  {
    name: 'motor_power_factor',
    meaning: 'Active by apparent power of the motor at rated load.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positiveShare },
    need: 'optional',
    fallback: { text: '0.85', reason: commonPractice },
    example: '0.87',
  },
  {
    name: 'black_start',
    meaning:
      'Whether the island starts from a dead network, whose transformers and filters the converter has to bring up alone.',
    type: { is: 'choice', choices: ['yes', 'no'] },
    need: 'optional',
    otherwise: 'A start from a dead network is not judged.',
    example: 'yes',
  },
  {
    name: 'running_load',
    meaning: 'Active power that runs already when the load is switched on or the motor started, at `power_factor`.',
    type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...notNegative },
    need: 'optional',
    otherwise: 'It is the power of `discharge` less that of the load step, or of the motor when it runs.',
    example: '0 kW',
  },
];

export const duty: Kind = {
  name: 'duty',
  meaning: 'What the plant has to do: a power in one direction, for how long, how often and under which conditions.',
  role: 'none',
  properties: [...power, ...timing, ...reactivePower, ...conditions, ...island],
  oneOf: [['discharge', 'charge', 'profile']],
  snippet: `duty \${1:start_peak} {
  discharge = \${2:400 kW} for \${3:45 min}
  power_factor = \${4:0.95}
  at = \${5:MAIN}
}
`,
};
