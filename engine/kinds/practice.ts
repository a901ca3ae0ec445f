// The kind `practice`: the margins and limits that a house judges its plants by.
import type { Kind, Property } from './kind.ts';
import { commonPractice, positive, share, yesNo } from './shared.ts';

const margins: readonly Property[] = [
  limit(
    'control_margin',
    'Least reserve of the converter voltage over the voltage that is needed, at nominal network voltage.',
    '10 %',
  ),
  limit(
    'control_margin_worst',
    'Least reserve of the converter voltage over the voltage that is needed, at the worst corner.',
    '3 %',
  ),
  limit(
    'diode_margin',
    'Least distance of the DC voltage above the voltage at which blocked converters start to conduct.',
    '3 %',
  ),
  limit('dc_trip_margin', 'Least distance of the highest DC voltage below the trip of the converter.', '3 %'),
];

const loadings: readonly Property[] = [
  limit('converter_loading', 'Greatest AC current of a converter as a ratio of its derated current.', '100 %'),
  limit('transformer_loading', 'Greatest load of a transformer as a ratio of its rated power.', '100 %'),
  limit('transformer_spare', 'Least part of the rated power of a transformer that is to stay free.', '0 %'),
  unused(limit('fuse_loading', 'Greatest lasting current of a fuse as a ratio of its rated current.', '80 %')),
];

const network: readonly Property[] = [
  limit(
    'cable_drop_ac',
    'Greatest voltage drop along an AC cable, as a ratio of the voltage at its higher end.',
    '3 %',
  ),
  limit('cable_drop_dc', 'Greatest voltage drop along a DC cable, as a ratio of the voltage at its higher end.', '2 %'),
  limit(
    'capacitor_share',
    'Greatest reactive power of the filter capacitors as a ratio of the rated apparent power.',
    '5 %',
  ),
  limit(
    'no_load_reactive',
    'Greatest reactive power of transformer and filter without load, as a ratio of the rated apparent power.',
    '5 %',
  ),
  limit(
    'reactive_error',
    'Greatest error of the reactive power by what the control measures, as a ratio of the rated apparent power.',
    '5 %',
  ),
  limit('ripple', 'Greatest ripple current in the filter, peak to peak, as a ratio of the rated peak current.', '30 %'),
  limit(
    'voltage_change',
    'Greatest voltage change that a duty may cause at the connection point, as a ratio of the nominal.',
    '3 %',
  ),
  limit(
    'voltage_dip',
    'Greatest fall of the voltage of an island when a load is switched on or a motor started, as a ratio of the nominal.',
    '15 %',
  ),
  {
    name: 'short_circuit_ratio',
    meaning: 'Least short-circuit power of the network over that of its converters, where no maker states a least.',
    type: { is: 'quantity', dimension: 'count', forms: ['number'], ...positive },
    need: 'optional',
    fallback: {
      text: '3',
      reason: 'IEEE 1204 calls a network below 3 low, for line-commutated links (from memory); customary for others',
    },
    example: '3',
  },
];

export const practice: Kind = {
  name: 'practice',
  meaning: 'The margins and limits of a house, by which the checks judge every plant that follows it.',
  role: 'none',
  properties: [
    ...margins,
    ...loadings,
    ...network,
    {
      name: 'require_source',
      meaning: 'Whether every stated fact has to say where it comes from.',
      type: { is: 'choice', choices: yesNo },
      need: 'optional',
      fallback: { text: 'no', reason: commonPractice },
      example: 'yes',
    },
  ],
  snippet: `practice \${1:HouseRules} {
  control_margin = \${2:10 %}
  converter_loading = \${3:100 %}
  transformer_spare = \${4:0 %}
}
`,
};

/** None of these limits stands in a clause that we could cite. */
function limit(name: string, meaning: string, text: string): Property {
  return {
    name,
    meaning,
    type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...share },
    need: 'optional',
    fallback: { text, reason: commonPractice },
    example: text,
  };
}

function unused(property: Property): Property {
  return { ...property, notEvaluated: true };
}
