// Carries the converter's harmonics through the ladder to the connection point, and the network's back into the plant.

import { add, type Complex, complex, divide, magnitude, multiply } from './complex.ts';
import { type Chain, chainOf, type Impedance, type ImpossibleInput, type LadderElement } from './ladder.ts';

/** What stands between the network's source and the converter, made anew for each frequency (Hz). */
export type HarmonicCircuit = {
  readonly elementsAt: (frequency: number) => readonly LadderElement[];
  /** Of the network behind the connection point, ohm per phase. */
  readonly networkAt: (frequency: number) => Impedance;
};

/** A harmonic of the converter's voltage; without a sign its phase counts as zero. */
export type HarmonicVoltage = {
  readonly frequency: number;
  /** V rms line to line. */
  readonly voltage: number;
  readonly sign?: 1 | -1;
};

/** Voltages line to line (V rms), currents of a line (A rms). */
export type CarriedHarmonic = {
  readonly frequency: number;
  readonly converterVoltage: number;
  readonly converterCurrent: number;
  /** The same current as a phasor of the first phase, from the instant to which the voltage's sign belongs. */
  readonly converterPhasor: Complex;
  readonly connectionVoltage: number;
  readonly connectionCurrent: number;
};

export type CarriedHarmonics = { readonly ok: true; readonly lines: readonly CarriedHarmonic[] };

/** At this frequency (Hz) nothing limits the current: a resonance without any resistance, or no impedance at all. */
export type Unlimited = { readonly ok: false; readonly problem: 'unlimited_current'; readonly frequency: number };

/**
 * Currents and voltages that the converter's harmonic voltages cause, each frequency for itself. The network's own source
 * has no harmonics here; its impedance closes the circuit. Zero-sequence voltages find no way and aren't to be given.
 */
export function carryHarmonics(
  harmonics: readonly HarmonicVoltage[],
  circuit: HarmonicCircuit,
): CarriedHarmonics | Unlimited | ImpossibleInput {
  const lines: CarriedHarmonic[] = [];
  for (const harmonic of harmonics) {
    const { frequency } = harmonic;
    if (!(frequency > 0 && harmonic.voltage >= 0)) return impossibleInput;
    const network = networkOf(circuit, frequency);
    const seen = driving(chainOf(circuit.elementsAt(frequency)), network);
    const connection = divide(complex((harmonic.sign ?? 1) * harmonic.voltage, 0), seen.voltage);
    if (connection === undefined) return { ok: false, problem: 'unlimited_current', frequency };
    const line = lineOf(harmonic, connection, multiply(seen.current, connection), network);
    if (!Number.isFinite(line.converterCurrent + line.connectionVoltage)) return impossibleInput;
    lines.push(line);
  }
  return { ok: true, lines };
}

/** What the converter does at a harmonic of the network: hold its current at zero, or leave its voltage without it. */
export type ConverterBehaviour = 'no_current' | 'no_voltage';

export type BackgroundAmplification = {
  /** Voltage at the connection point over that of the network's source (ratio). */
  readonly connection: number;
  /** Voltage at the converter terminals over what the ratios alone would make of it; zero without voltage there. */
  readonly terminal: number;
  /** Line current at the connection point for one volt of the source, line to line (A/V). */
  readonly currentPerVolt: number;
};

/**
 * What the plant makes of a harmonic that is already in the network. `no_current`: gates blocked, or a control that keeps
 * its current sinusoidal; the capacitor then resonates with all inductance on its network side (the lower resonance).
 * `no_voltage`: a converter that forms a plain sine voltage. Undefined at a resonance without resistance.
 */
export function backgroundAmplification(
  circuit: HarmonicCircuit,
  frequency: number,
  behaviour: ConverterBehaviour,
): BackgroundAmplification | undefined {
  const elements = circuit.elementsAt(frequency);
  const chain = chainOf(elements);
  const network = networkOf(circuit, frequency);
  // Nothing at the terminals: (a, b) or (c, d) times (V_n, J_n) is zero; the source lies at V_n − Z·J_n.
  const [held, kept] = behaviour === 'no_current' ? [chain.c, chain.d] : [chain.a, chain.b];
  const source = add(kept, multiply(held, network));
  const connection = divide(kept, source);
  const current = divide(held, source);
  if (connection === undefined || current === undefined) return undefined;
  const open = divide(complex(1, 0), source);
  const ratio = elements.reduce((product, element) => product * (element.kind === 'ratio' ? element.ratio : 1), 1);
  const terminal = behaviour === 'no_voltage' || open === undefined ? 0 : magnitude(open) * Math.abs(ratio);
  const found = {
    connection: magnitude(connection),
    terminal,
    currentPerVolt: magnitude(current) / Math.sqrt(3),
  };
  return Number.isFinite(found.connection + found.terminal + found.currentPerVolt) ? found : undefined;
}

/**
 * Impedance of a network by frequency from that at its own frequency: reactance in proportion, resistance unchanged. The
 * resistance of a real network rises, so this damps too little rather than too much.
 */
export const inductiveNetwork =
  (impedance: Impedance, ownFrequency: number) =>
  (frequency: number): Impedance => ({
    resistance: impedance.resistance,
    reactance: (impedance.reactance * frequency) / ownFrequency,
  });

const impossibleInput: ImpossibleInput = { ok: false, problem: 'impossible_input' };

function networkOf(circuit: HarmonicCircuit, frequency: number): Complex {
  const { resistance, reactance } = circuit.networkAt(frequency);
  return complex(resistance, reactance);
}

/** Converter voltage and current for one unit of current at the connection point, where V_n = Z·J_n. */
const driving = (chain: Chain, network: Complex): { readonly voltage: Complex; readonly current: Complex } => ({
  voltage: add(multiply(chain.a, network), chain.b),
  current: add(multiply(chain.c, network), chain.d),
});

function lineOf(harmonic: HarmonicVoltage, connection: Complex, terminal: Complex, network: Complex): CarriedHarmonic {
  const rootOfThree = Math.sqrt(3);
  return {
    frequency: harmonic.frequency,
    converterVoltage: harmonic.voltage,
    converterCurrent: magnitude(terminal) / rootOfThree,
    converterPhasor: complex(terminal.re / rootOfThree, terminal.im / rootOfThree),
    connectionVoltage: magnitude(multiply(network, connection)),
    connectionCurrent: magnitude(connection) / rootOfThree,
  };
}
