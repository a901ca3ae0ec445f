// Results of the plant as a whole.

import type { KindName } from '../kinds/kind.ts';
import { loss as chopperLoss } from './chopper.ts';
import { roomHeat } from './converter-loss.ts';
import { defineResult, type Result } from './definition.ts';
import { filterLoss } from './losses.ts';
import { loss as transformerLoss } from './transformer.ts';

const lossOf: ReadonlyMap<KindName, Result> = new Map([
  ['converter', roomHeat],
  ['filter', filterLoss],
  ['chopper', chopperLoss],
  ['transformer', transformerLoss],
]);

export const heatToRoom = defineResult({
  name: 'heat_to_room',
  on: 'plant',
  dimension: 'active_power',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Heat that converters, filters, choppers and transformers give to their room while the duty lasts; of a liquid-cooled converter only its share. Batteries and cables are left out.',
  formula: 'P = Σ losses of converters (times `room_heat`), filters, choppers and transformers',
  source: 'conservation of energy',
  compute: read => {
    const losses = read.components.flatMap(component => {
      const result = lossOf.get(component.kind.name);
      return result === undefined ? [] : [read.worstUnder(component, result, read.demand)];
    });
    const known = losses.filter(loss => !Number.isNaN(loss));
    // Of components that the duty does not reach nothing is known, and nothing comes; but no loss known is not no heat.
    return losses.length > 0 && known.length === 0 ? Number.NaN : known.reduce((sum, loss) => sum + loss, 0);
  },
});

export const plantResults = [heatToRoom];
