// Sound plants of several equal units again, their direct-current sides tied together: one net, whose ties idle.
import { amperes, batteryCurrent, type Fault, state } from './fault.ts';
import { type Design, stating } from './plant-design.ts';
import { type SoundPlant, soundPlants } from './sound-plants.ts';

export const tiedPlants: readonly SoundPlant[] = soundPlants
  .filter(({ design }) => design.arrangement === 'units')
  .slice(0, 6)
  .map(plant => {
    const design: Design = { ...plant.design, name: `Tied${plant.seed}`, tied: true };
    return { ...plant, design: stating(design, 'converter', 'carriers', 'synchronised') };
  });

/** Mistakes that only a net makes one of, or that must be found in it all the same. */
export const tiedFaults: readonly Fault[] = [
  {
    name: 'converters joined on both sides by a tie, their carriers free',
    code: 'circulating_current',
    on: ['K1'],
    plants: tiedPlants,
    put: state('converter', 'carriers', () => ''),
  },
  {
    name: 'cells on a net that may not be discharged so fast',
    code: 'battery_current',
    on: 'battery',
    plants: tiedPlants,
    put: state('battery', 'discharge_current', plant => amperes((0.97 * batteryCurrent(plant)) / plant.hand.strings)),
  },
];
