// The kind `transformer`: a three-phase transformer with two windings.
import type { Kind, Property } from './kind.ts';
import { commonPractice, notNegative, orderFacts, positive, positiveShare, share, yesNo } from './shared.ts';

const rating: readonly Property[] = [
  {
    name: 'rated_power',
    meaning: 'Rated power of the transformer, continuous, three-phase.',
    type: {
      is: 'quantity',
      dimension: 'apparent_power',
      forms: ['number', 'pick'],
      ...positive,
      greatest: { value: 2e9, exclusive: false },
    },
    need: 'required',
    example: '500 kVA',
  },
  {
    name: 'primary_voltage',
    meaning: 'Rated voltage of the winding that the chain reaches first, line to line rms.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...positive },
    need: 'required',
    example: '400 V',
  },
  {
    name: 'secondary_voltage',
    meaning: 'Rated voltage of the other winding at no load, line to line rms.',
    type: { is: 'quantity', dimension: 'voltage', forms: ['number', 'pick'], ...positive },
    need: 'required',
    example: '360 V',
  },
  {
    name: 'impedance',
    meaning: 'Short-circuit impedance as a ratio of the rated impedance, at the principal tapping.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number', 'tolerance'], ...positiveShare },
    need: 'required',
    toleranceFallback: {
      text: '10 %',
      reason: 'IEC 60076-1, impedances below 10 % (from memory)',
      from: { nominal: 0.1, text: '7.5 %', reason: 'IEC 60076-1, impedances of 10 % and more (from memory)' },
    },
    example: '6 % ± 10 %',
  },
];

const mostPermitted =
  'The greatest that Regulation (EU) 548/2014 as amended by 2019/1783 permits for its rating and construction, tier 2, or in proportion to that beyond its table (common practice, no source).';

const losses: readonly Property[] = [
  {
    name: 'load_loss',
    meaning:
      'Loss in the windings at rated current and reference temperature, as power or as a ratio of the rated power.',
    type: { is: 'quantity', dimension: 'active_power', or: ['ratio'], forms: ['number'], ...notNegative },
    need: 'expected',
    otherwise: mostPermitted,
    example: '5.8 kW',
  },
  {
    name: 'no_load_loss',
    meaning: 'Loss in the core at rated voltage, as power or as a ratio of the rated power.',
    type: { is: 'quantity', dimension: 'active_power', or: ['ratio'], forms: ['number'], ...notNegative },
    need: 'expected',
    otherwise: mostPermitted,
    example: '800 W',
  },
  {
    name: 'no_load_current',
    meaning: 'Current at rated voltage and no load, as a ratio of the rated current.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'expected',
    fallback: { text: '1 %', reason: commonPractice },
    example: '0.8 %',
  },
  {
    name: 'eddy_loss',
    meaning: 'Eddy-current loss of the windings at rated sinusoidal current, as a ratio of the load loss.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    fallback: { text: '10 %', reason: `${commonPractice}: 5 % to 15 %; harmonics raise this part of the loss alone` },
    example: '8 %',
  },
];

const switchingOn: readonly Property[] = [
  {
    name: 'inrush',
    meaning: 'First peak of its inrush behind a stiff network, over the peak of the rated current.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positive },
    need: 'optional',
    fallback: {
      text: '10',
      reason: `${commonPractice}: 8 to 12 is usual; a dip of the network is shown with it, and judged only where it is stated`,
    },
    example: '8',
  },
  {
    name: 'magnetised_from',
    meaning: 'Side from which it is magnetised: by switching on, or slowly by a converter that builds its voltage up.',
    type: { is: 'choice', choices: ['network_side', 'converter_side'] },
    need: 'optional',
    fallback: { text: 'network_side', reason: 'nothing says that the converter builds its voltage up beforehand' },
    example: 'converter_side',
  },
];

const onLoad = { property: 'tap_changer', word: 'on_load' } as const;

const ratio: readonly Property[] = [
  {
    name: 'ratio_tolerance',
    meaning: 'Greatest deviation of the no-load voltage ratio from the stated one, each way.',
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    otherwise:
      '0.5 %, or a tenth of the impedance where that is less (IEC 60076-1, principal tapping, read in a reprint).',
    example: '0.5 %',
  },
  {
    name: 'tap',
    meaning: 'Tapping in use on the primary, as a difference from its rated voltage: +2.5 % lowers the secondary.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      least: { value: -0.5, exclusive: false },
      greatest: { value: 0.5, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '0 %', reason: 'the principal tapping' },
    example: '+2.5 %',
  },
  {
    name: 'tap_changer',
    meaning: 'Whether tappings can be changed: by hand off circuit, or on load by a regulator.',
    type: { is: 'choice', choices: ['none', 'off_circuit', 'on_load'] },
    need: 'optional',
    otherwise:
      'The stated `tap` stays, as off circuit; on load the winding on the converter side is held at its rated no-load voltage within half a dead band of 1.2 steps (common practice, no source), slowly.',
    example: 'off_circuit',
  },
  {
    name: 'tap_range',
    meaning: 'Tapping that lies furthest from the principal one, each way, as a difference from the rated voltage.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      ...notNegative,
      greatest: { value: 0.5, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '10 %', reason: `${commonPractice}: an on-load tap changer of ± 8 steps` },
    matters: onLoad,
    example: '5 %',
  },
  {
    name: 'tap_step',
    meaning: 'Difference between neighbouring tappings, as a ratio of the rated voltage.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      ...positive,
      greatest: { value: 0.25, exclusive: false },
    },
    need: 'optional',
    fallback: { text: '1.25 %', reason: `${commonPractice}: an on-load tap changer of ± 8 steps` },
    matters: onLoad,
    example: '2.5 %',
  },
];

const construction: readonly Property[] = [
  {
    name: 'vector_group',
    meaning: 'Connection symbol, higher voltage first, such as "Dyn11"; N or n: its star point is brought out.',
    type: { is: 'text' },
    need: 'optional',
    example: '"Dyn11"',
  },
  {
    name: 'construction',
    meaning: 'Whether the windings are cooled by air or stand in a liquid.',
    type: { is: 'choice', choices: ['dry', 'liquid'] },
    need: 'optional',
    fallback: { text: 'dry', reason: `${commonPractice}: altitude counts more for dry types, so nothing is missed` },
    example: 'dry',
  },
  {
    name: 'neutral',
    meaning: 'Whether the star point of the winding on the converter side is earthed or loaded, or floats.',
    type: { is: 'choice', choices: ['floating', 'earthed'] },
    need: 'expected',
    fallback: { text: 'floating', reason: `${commonPractice}: a three-wire converter needs no star point` },
    example: 'floating',
  },
  {
    name: 'time_constant',
    meaning: 'Thermal time constant: of the winding of a dry type, of the liquid of a liquid-filled one.',
    type: { is: 'quantity', dimension: 'time', forms: ['number'], ...positive },
    need: 'optional',
    otherwise: '30 min for a dry type, 2 h for a liquid-filled one (from memory): the lower ends of what is usual.',
    example: '45 min',
  },
  {
    name: 'overload',
    meaning:
      'Greatest current for a passing duty, as a ratio of the rated one; for how long, its time constant decides.',
    type: {
      is: 'quantity',
      dimension: 'ratio',
      forms: ['number'],
      least: { value: 1, exclusive: false },
      greatest: { value: 2, exclusive: false },
    },
    need: 'optional',
    otherwise: 'No overload is counted on.',
    example: '130 %',
  },
  {
    name: 'screen',
    meaning: 'Whether an earthed screen stands between the windings.',
    type: { is: 'choice', choices: yesNo },
    need: 'optional',
    example: 'yes',
    notEvaluated: true,
  },
];

export const transformer: Kind = {
  name: 'transformer',
  meaning: 'A three-phase transformer with two windings; the side that the chain reaches first is the primary.',
  role: 'ac',
  properties: [...rating, ...losses, ...switchingOn, ...ratio, ...construction, ...orderFacts],
  snippet: `transformer \${1:T1} {
  rated_power = \${2:500 kVA}
  primary_voltage = \${3:400 V}
  secondary_voltage = \${4:360 V}
  impedance = \${5:6 %} ± \${6:10 %}
  load_loss = \${7:5.8 kW}
  no_load_loss = \${8:800 W}
  no_load_current = \${9:1 %}
  neutral = \${10|floating,earthed|}
}
`,
};
