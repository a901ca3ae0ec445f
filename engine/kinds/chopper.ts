// The kind `chopper`: a DC/DC converter between two DC voltages.
import type { Kind } from './kind.ts';
import { orderFacts, positive, positiveShare } from './shared.ts';

export const chopper: Kind = {
  name: 'chopper',
  meaning: 'A DC/DC converter that sets the voltage of a store apart from the voltage of the DC link.',
  role: 'dc',
  properties: [
    {
      name: 'low_side_voltage',
      meaning: 'Span of DC voltage on the side of the lower voltage, pole to pole.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
      need: 'optional',
      example: '400 V .. 700 V',
    },
    {
      name: 'high_side_voltage',
      meaning: 'Span of DC voltage on the side of the higher voltage, pole to pole.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
      need: 'optional',
      example: '700 V .. 850 V',
    },
    {
      name: 'current',
      meaning: 'Rated DC current on the side of the lower voltage, continuous.',
      type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
      need: 'optional',
      example: '800 A',
    },
    {
      name: 'efficiency',
      meaning: 'Output power divided by input power at rated current.',
      type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...positiveShare },
      need: 'optional',
      example: '98 %',
    },
    ...orderFacts,
  ],
  snippet: `chopper \${1:U1} {
  low_side_voltage = \${2:400 V} .. \${3:700 V}
  high_side_voltage = \${4:700 V} .. \${5:850 V}
  current = \${6:800 A}
  efficiency = \${7:98 %}
}
`,
  notEvaluated: true,
};
