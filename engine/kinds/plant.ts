// The kind `plant`: what holds for all components of a design together.
import type { Kind } from './kind.ts';
import { altitudeBounds, commonPractice, positive, temperatureBounds } from './shared.ts';

export const plant: Kind = {
  name: 'plant',
  meaning: 'The plant as a whole: where it stands, what air surrounds it and which practice it is judged by.',
  role: 'none',
  properties: [
    {
      name: 'altitude',
      meaning: 'Height of the site above sea level.',
      type: { is: 'quantity', dimension: 'length', forms: ['number'], ...altitudeBounds },
      need: 'expected',
      fallback: {
        text: '1000 m',
        reason: `${commonPractice}: the height up to which equipment is usually rated without derating`,
      },
      example: '1920 m',
    },
    {
      name: 'ambient',
      meaning: 'Span of the temperature of the air that surrounds and cools the components.',
      type: { is: 'quantity', dimension: 'temperature', forms: ['range'], ...temperatureBounds },
      need: 'expected',
      fallback: {
        text: '0 °C .. 40 °C',
        reason: `${commonPractice}: the air temperatures for which indoor equipment is usually rated`,
      },
      example: '5 °C .. 40 °C',
    },
    {
      name: 'heat_removal',
      meaning: 'Heat that the ventilation or cooling of the room carries away at the highest ambient temperature.',
      type: { is: 'quantity', dimension: 'active_power', forms: ['number'], ...positive },
      need: 'optional',
      otherwise: 'The heat to the room is a result, and is judged by nothing.',
      example: '25 kW',
    },
    {
      name: 'follows',
      meaning: 'The practice whose margins and limits the checks take.',
      type: { is: 'reference', kinds: ['practice'] },
      need: 'optional',
      otherwise: 'The margins and limits that the kind `practice` gives as its defaults hold.',
      example: 'HouseRules',
    },
    {
      name: 'title',
      meaning: 'Title of the design as it is to stand in reports.',
      type: { is: 'text' },
      need: 'optional',
      otherwise: 'Reports show the name of the plant.',
      example: '"Valley station, start buffer"',
      descriptive: true,
    },
    {
      name: 'revision',
      meaning: 'Revision of the design as its author counts it.',
      type: { is: 'text' },
      need: 'optional',
      example: '"B"',
      descriptive: true,
    },
  ],
  snippet: `plant \${1:ValleyStation} {
  altitude = \${2:1920 m}
  ambient = \${3:5 °C} .. \${4:40 °C}
}
`,
};
