// The kind `chopper`: a DC/DC converter between two DC voltages.
import type { Kind } from './kind.ts';
import { commonPractice, orderFacts, positive, positiveShare } from './shared.ts';

export const chopper: Kind = {
  name: 'chopper',
  meaning: 'A DC/DC converter that sets the voltage of a store apart from the voltage of the DC link.',
  role: 'dc',
  properties: [
    {
      name: 'low_side_voltage',
      meaning: 'Span of DC voltage on the side of the lower voltage, pole to pole.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
      need: 'required',
      example: '400 V .. 700 V',
    },
    {
      name: 'high_side_voltage',
      meaning: 'Span of DC voltage on the side of the higher voltage, pole to pole.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['range'], ...positive },
      need: 'required',
      example: '700 V .. 850 V',
    },
    {
      name: 'current',
      meaning: 'Rated DC current on the side of the lower voltage, continuous.',
      type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
      need: 'required',
      example: '800 A',
    },
    {
      name: 'efficiency',
      meaning: 'Output power divided by input power, in either direction, taken as the same at every current.',
      type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...positiveShare },
      need: 'expected',
      fallback: { text: '98 %', reason: commonPractice },
      example: '98 %',
    },
    {
      name: 'link_voltage',
      meaning: 'DC voltage that it holds on the side of the converter, pole to pole.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['number', 'tolerance', 'range'], ...positive },
      need: 'optional',
      otherwise:
        'Both ends of the span of that side are taken to occur; on a link that another chopper holds, it follows that one.',
      example: '750 V ± 1 %',
    },
    {
      name: 'share',
      meaning:
        'Part of the power of a DC link that this chopper carries where several choppers feed it; all parts together are 100 %.',
      type: { is: 'quantity', dimension: 'ratio', forms: ['number'], ...positiveShare },
      need: 'optional',
      otherwise:
        'What the stated shares leave is divided by the energy in the spans of the batteries behind each of the others, so that all are empty, and full, at the same time.',
      example: '50 %',
    },
    {
      name: 'battery_side',
      meaning: 'On which of its two sides the battery lies; the converter lies on the other.',
      type: { is: 'choice', choices: ['low', 'high'] },
      need: 'optional',
      fallback: { text: 'low', reason: 'a battery below the DC link is what a chopper is mostly there for' },
      example: 'low',
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
};
