// The kind `fuse`: a fuse in each phase or each pole.
import type { Kind } from './kind.ts';
import { orderFacts, positive } from './shared.ts';

export const fuse: Kind = {
  name: 'fuse',
  meaning: 'A fuse in each phase or each pole of a run.',
  role: 'either',
  properties: [
    {
      name: 'rated_current',
      meaning: 'Rated current of the fuse link: rms on the AC side, mean value on the DC side.',
      type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
      need: 'required',
      example: '400 A',
    },
    {
      name: 'rated_voltage',
      meaning: 'Rated voltage of the fuse link: line to line rms on the AC side, pole to pole on the DC side.',
      type: { is: 'quantity', dimension: 'voltage', forms: ['number'], ...positive },
      need: 'optional',
      example: '1000 V',
    },
    {
      name: 'breaking_capacity',
      meaning: 'Greatest prospective current that the fuse link breaks: rms on the AC side, mean value on the DC side.',
      type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
      need: 'optional',
      example: '50 kA',
    },
    {
      name: 'class',
      meaning: 'Utilisation category after IEC 60269: breaking range and what the fuse link is made to protect.',
      type: { is: 'choice', choices: ['gG', 'aR', 'gR', 'gBat'] },
      need: 'optional',
      example: 'gBat',
    },
    {
      name: 'melting',
      meaning: 'Pre-arcing time over the prospective current, as the maker draws it with both axes logarithmic.',
      type: {
        is: 'quantity',
        dimension: 'time',
        forms: ['curve'],
        axes: [{ name: 'current', dimension: 'current' }],
        ...positive,
      },
      need: 'optional',
      example: 'curve current log { 800 A 100 s, 1600 A 2 s, 4000 A 40 ms }',
    },
    {
      name: 'least_breaking_current',
      meaning: 'Least current that a fuse link of a partial range breaks safely.',
      type: { is: 'quantity', dimension: 'current', forms: ['number'], ...positive },
      need: 'optional',
      example: '1.6 kA',
    },
    ...orderFacts,
  ],
  snippet: `fuse \${1:FU1} {
  rated_current = \${2:400 A}
  rated_voltage = \${3:1000 V}
  breaking_capacity = \${4:50 kA}
  class = \${5|gBat,aR,gR,gG|}
}
`,
  notEvaluated: true,
};
