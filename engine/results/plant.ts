// Results of the plant as a whole.

import { loss as converterLoss } from './converter-current.ts';
import { defineResult } from './definition.ts';
import { loss as transformerLoss } from './transformer.ts';

export const heatToRoom = defineResult({
  name: 'heat_to_room',
  on: 'plant',
  dimension: 'active_power',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Heat that converters and transformers give to their room while the duty lasts; batteries, filters and cables are left out.',
  formula: 'P = Σ losses of converters and transformers',
  source: 'conservation of energy',
  compute: read => {
    let sum = 0;
    for (const component of read.components) {
      const result =
        component.kind.name === 'converter'
          ? converterLoss
          : component.kind.name === 'transformer'
            ? transformerLoss
            : undefined;
      if (result !== undefined) sum += read.worstUnder(component, result, read.demand);
    }
    return sum;
  },
});

export const plantResults = [heatToRoom];
