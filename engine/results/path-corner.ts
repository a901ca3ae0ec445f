// Which corner of the facts a way to the network is made from.
import { type At, voltages } from './definition.ts';
import type { Corner } from './noted.ts';
import type { Regulated } from './transformer-facts.ts';

/** Which corner of each fact a ladder is made from. */
export interface PathCorner {
  readonly impedance: Corner;
  readonly capacitance: Corner;
  /** Deviation of the ratio as a share of its stated tolerance: −1 gives the highest secondary voltage. */
  readonly ratio: -1 | 0 | 1;
  /** Where on-load tap changers stand. */
  readonly tapping: Tapping;
}

/** At a network voltage (V), or where the voltage behind them is highest: as at the lowest network voltage. */
export type Tapping = Regulated | 'nominal' | 'worst';

export const nominalCorner: PathCorner = { impedance: 'nominal', capacitance: 'nominal', ratio: 0, tapping: 'nominal' };
/**
 * Highest voltage at blocked terminals: lowest ratio, largest impedance for the capacitor to raise, largest capacitor. An
 * on-load tap changer follows slowly, and by hand or out of order it stays: it is taken where the lowest network
 * voltage would leave it.
 */
export const highestVoltageCorner: PathCorner = { impedance: 'high', capacitance: 'high', ratio: -1, tapping: 'worst' };

/** Nominal parts at a network voltage (V) and the corner that it is. */
export const cornerAt = (network: number, at: At): PathCorner => ({
  impedance: 'nominal',
  capacitance: 'nominal',
  ratio: 0,
  tapping: { network, end: voltages[at.voltage]! },
});
