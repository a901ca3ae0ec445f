// What is taken for a cell of which only the chemistry is known: voltage at rest, and resistance over temperature.

import type { CurveSpec } from '../units/curve.ts';
import type { Citation } from './evidence.ts';

export type Chemistry = 'lfp' | 'nmc' | 'lead_acid';

export type RestVoltage = {
  /** One cell, V over state of charge (0…1), straight between the points. */
  readonly curve: CurveSpec;
  readonly citation: Citation;
  /** What is known to be wrong with it, in plain sentences. */
  readonly caveats: readonly string[];
};

export type ResistanceGrowth = {
  /** Resistance over that at 25 °C, over the temperature of the cell (K). */
  readonly curve: CurveSpec;
  readonly citation: Citation;
};

/**
 * Points "state of charge in per cent:volts". The two lithium cells: full-cell balance of published electrode
 * functions between the limits of their parameter sets, with so many points that straight lines keep within 2 mV.
 */
const restPoints: Readonly<Record<Chemistry, string>> = {
  lfp: `
    0:2 0.4:2.1162 0.8:2.2188 1.2:2.3094 1.7:2.4079 2:2.46 2.5:2.5369 3:2.6028 3.5:2.6592 4:2.7077 4.5:2.7494 5:2.7853
    5.5:2.8163 6.5:2.8667 7.5:2.9057 9:2.9515 10:2.9781 14.5:3.0966 16:3.1277 18:3.1544 20:3.1685 20.5:3.1709
    29.5:3.2034 30:3.2058 38.5:3.2477 40:3.2525 45:3.2621 50:3.266 60:3.2688 64:3.2697 70:3.274 71:3.2761 79:3.3079
    80:3.3097 88:3.3138 90:3.3142 95:3.3164 95.5:3.3175 97:3.3274 97.8:3.3435 98.4:3.3684 98.8:3.3961 99.1:3.4261
    99.4:3.467 99.6:3.5024 99.8:3.5461 100:3.6`,
  nmc: `
    0:2.5 0.4:2.5932 0.8:2.6747 1.3:2.7621 1.8:2.8362 2:2.8625 2.5:2.9212 3:2.9712 3.5:3.0138 4:3.0504 4.5:3.082
    5:3.1094 5.5:3.1337 7:3.1933 10:3.2959 12:3.3637 13.5:3.4048 15:3.4339 17:3.4592 20:3.4852 25.5:3.5335 30:3.5814
    33.5:3.6161 40:3.667 47:3.7227 50:3.7509 58:3.8242 60:3.8406 63.5:3.8725 70:3.9479 80:4.0421 83:4.0679 86.5:4.0878
    90:4.0967 92.5:4.1048 95:4.1236 97.7:4.1596 100:4.2`,
  // A battery of six cells at 11.6, 12.0, 12.2, 12.4 and 12.6 V.
  lead_acid: '0:1.9333 25:2 50:2.0333 75:2.0667 100:2.1',
};

const published =
  'from the electrode functions of a published parameter set, in the open repository pybamm-team/PyBaMM (BSD-3-Clause)';

export const restVoltages: Readonly<Record<Chemistry, RestVoltage>> = {
  lfp: {
    curve: curveOf(restPoints.lfp),
    citation: {
      source: `${published}: Prada2013; LFP after Afshar et al., arXiv:1709.03970, graphite after Chen et al., J. Electrochem. Soc. 167 (2020) 080534`,
      evidence: 'seen in source',
    },
    caveats: [
      'Below 20 % it is steeper than most cell data: the graphite function rises early.',
      '3.6 V and 2.0 V are the limits of the parameter set; a full cell rests at about 3.33 V to 3.40 V (from memory).',
    ],
  },
  nmc: {
    curve: curveOf(restPoints.nmc),
    citation: {
      source: `${published}: Chen2020, NMC811 against graphite with silicon; Chen et al., J. Electrochem. Soc. 167 (2020) 080534`,
      evidence: 'seen in source',
    },
    caveats: ['NMC with less nickel rests higher at the same state of charge.'],
  },
  lead_acid: {
    curve: curveOf(restPoints.lead_acid),
    citation: {
      source:
        'rule of thumb for vented batteries of six cells, after hours of rest; tables differ by some 25 mV a cell',
      evidence: 'common practice, no source',
    },
    caveats: [
      'It goes with the density of the acid: stationary vented cells rest lower, valve-regulated ones higher, by up to 50 mV a cell (from memory).',
      'At rest it changes with temperature by about +0.2 mV/K a cell (from memory), which is left out; the charging voltage changes far more, by about −3 to −5 mV/K a cell (common practice, no source).',
    ],
  },
};

const growthPoints: Readonly<Record<Chemistry, string>> = {
  lfp: '-20:5 -10:3.2 0:2 10:1.4 25:1 45:0.85',
  nmc: '-20:4.5 -10:2.9 0:1.9 10:1.35 25:1 45:0.85',
  lead_acid: '-20:2 -10:1.6 0:1.35 10:1.18 25:1 45:0.9',
};

/** Only a shape for want of the maker's: real cells differ by a factor of two in the cold. */
export const resistanceGrowth: Readonly<Record<Chemistry, ResistanceGrowth>> = {
  lfp: growthOf('lfp'),
  nmc: growthOf('nmc'),
  lead_acid: growthOf('lead_acid'),
};

function curveOf(text: string): CurveSpec {
  const [x, y] = pairsOf(text);
  return { shape: 'linear', x: x.map(percent => percent / 100), y };
}

function growthOf(chemistry: Chemistry): ResistanceGrowth {
  const [x, y] = pairsOf(growthPoints[chemistry]);
  return {
    curve: { shape: 'linear', x: x.map(celsius => celsius + 273.15), y },
    citation: { source: 'resistance for seconds to minutes, over 25 °C', evidence: 'common practice, no source' },
  };
}

function pairsOf(text: string): readonly [number[], number[]] {
  const pairs = text
    .trim()
    .split(/\s+/u)
    .map(pair => pair.split(':').map(Number));
  return [pairs.map(pair => pair[0]!), pairs.map(pair => pair[1]!)];
}
