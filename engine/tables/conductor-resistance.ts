// Greatest direct-current resistance of stranded conductors at 20 °C, as IEC 60228 tabulates it.

import type { Citation } from './evidence.ts';

export type Conductor = 'copper' | 'aluminium';

export const conductorResistanceSources: Readonly<Record<Conductor, Citation>> = {
  copper: {
    source:
      'IEC 60228, class 2, plain; read in a reprint of the standard and in Agrawal, Industrial Power Engineering and Applications Handbook, Table A16.4',
    evidence: 'seen in source',
  },
  aluminium: { source: 'IEC 60228, classes 1 and 2; read in a reprint of the standard', evidence: 'seen in source' },
};

/** Cross-section in mm², resistance in Ω/km at 20 °C, in the standard's own digits. */
const copper: ReadonlyMap<number, number> = new Map([
  [1.5, 12.1],
  [2.5, 7.41],
  [4, 4.61],
  [6, 3.08],
  [10, 1.83],
  [16, 1.15],
  [25, 0.727],
  [35, 0.524],
  [50, 0.387],
  [70, 0.268],
  [95, 0.193],
  [120, 0.153],
  [150, 0.124],
  [185, 0.0991],
  [240, 0.0754],
  [300, 0.0601],
  [400, 0.047],
  [500, 0.0366],
  [630, 0.0283],
  [800, 0.0221],
  [1000, 0.0176],
  [1200, 0.0151],
]);

const aluminium: ReadonlyMap<number, number> = new Map([
  [10, 3.08],
  [16, 1.91],
  [25, 1.2],
  [35, 0.868],
  [50, 0.641],
  [70, 0.443],
  [95, 0.32],
  [120, 0.253],
  [150, 0.206],
  [185, 0.164],
  [240, 0.125],
  [300, 0.1],
  [400, 0.0778],
  [500, 0.0605],
  [630, 0.0469],
  [800, 0.0367],
  [1000, 0.0291],
  [1200, 0.0247],
]);

export const conductorResistances: Readonly<Record<Conductor, ReadonlyMap<number, number>>> = { copper, aluminium };

/**
 * Tabulated resistance (Ω/m at 20 °C) of a cross-section (m²); undefined for one that the table doesn't hold, since
 * the real conductor areas behind the nominal ones don't interpolate.
 */
export function tabulatedResistance(conductor: Conductor, crossSection: number): number | undefined {
  // Back to the nominal figure in mm², free of the rounding that scaling to m² brought in.
  const nominal = Math.round(crossSection * 1e9) / 1e3;
  const perKilometre = conductorResistances[conductor].get(nominal);
  return perKilometre === undefined ? undefined : perKilometre / 1000;
}

/** Cross-sections (m²) that the table holds for a conductor, rising. */
export const tabulatedCrossSections = (conductor: Conductor): readonly number[] =>
  [...conductorResistances[conductor].keys()].map(nominal => nominal / 1e6);
