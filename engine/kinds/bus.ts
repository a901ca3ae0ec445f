// The kind `bus`: a node where several chains meet.
import type { Kind } from './kind.ts';
import { positive } from './shared.ts';

export const bus: Kind = {
  name: 'bus',
  meaning: 'A node that several chains share, on the AC or on the DC side.',
  role: 'node',
  properties: [
    {
      name: 'voltage',
      meaning:
        'Nominal voltage of the node or the span that it keeps: line to line rms, or pole to pole on the DC side.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['number', 'range'], ...positive },
      need: 'optional',
      otherwise: 'The voltage follows from the components that are connected to the node.',
      example: '400 V',
    },
  ],
  snippet: `bus \${1:N1} {
}
`,
};
