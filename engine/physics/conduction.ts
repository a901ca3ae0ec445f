// Uncontrolled charging: the steady state of the diode bridge that feeds a battery through its source impedance.
import { type BridgeCircuit, inductiveNetwork, type Network, phaseAngles, type Stretch } from './bridgecircuit.ts';
import { atRest, type FilterCircuit, filterNetwork, riseAtRest } from './bridgefilter.ts';
import { findPeriodic, followSector, type Periodic, sector, sectorStart } from './bridgeperiod.ts';
import { overPanels } from './gauss.ts';

export interface UncontrolledBridge {
  /** Open-circuit line-to-line voltage of the source (V rms), balanced and sinusoidal; without any capacitor. */
  readonly lineVoltage: number;
  /** Hz. */
  readonly frequency: number;
  /** Of each phase behind that voltage (H, Ω), up to the capacitor if there is one. */
  readonly sourceInductance: number;
  readonly sourceResistance: number;
  /** The filter between the source and the bridge, if any. */
  readonly filter?: BridgeFilter;
  /** The battery: open-circuit voltage (V), resistance (Ω), inductance of the DC circuit (H, default none). */
  readonly dcEmf: number;
  readonly dcResistance: number;
  readonly dcInductance?: number;
  /** Forward voltage of one diode (V, default none). */
  readonly diodeDrop?: number;
}

/** Each phase: a capacitor in star (F) with a resistance in series, then an inductor (H, Ω) to the bridge. */
export interface BridgeFilter {
  readonly capacitance: number;
  readonly dampingResistance?: number;
  readonly inductance: number;
  readonly resistance?: number;
}

export interface Conduction {
  readonly conducts: boolean;
  readonly mode: 'none' | 'discontinuous' | 'continuous';
  /** Line-to-line voltage (V rms) at the bridge without conduction: that of the source, raised by the capacitor. */
  readonly openVoltage: number;
  /** DC current into the battery (A). */
  readonly meanCurrent: number;
  readonly peakCurrent: number;
  readonly rmsCurrent: number;
  /** Current of a phase at the bridge (A rms), its fundamental (A rms), and the current from the source (A rms). */
  readonly phaseRms: number;
  readonly fundamentalRms: number;
  readonly sourceRms: number;
  /** Cosine of the angle between the source's voltage and the fundamental of the current at the bridge. */
  readonly displacementFactor: number;
  /** Share of the time without current in the battery. */
  readonly idleShare: number;
  /** From the source; stored in the battery, E·I; lost in resistances and diodes (W). */
  readonly sourcePower: number;
  readonly batteryPower: number;
  readonly losses: number;
  /** False where no steady state was found; the currents are then an estimate. */
  readonly converged: boolean;
  /** By how much a sixth of a period fails to repeat itself, relative to the largest current. */
  readonly residual: number;
}

/**
 * Steady state of a six-pulse diode bridge (a converter with blocked gates) between a source U behind L and R in each
 * phase, perhaps a filter, and a battery E behind its resistance and inductance. Exact from one change of conduction to
 * the next (closed forms, or with a filter a series to rounding); the current that repeats after 60° by Newton's method.
 * Ideal diodes, or a constant drop. With dcInductance = 0 the battery is a stiff voltage behind its resistance; a smooth
 * DC current needs a large one, and only for that does the law 3/π·X·I for the mean voltage hold.
 * A capacitor matters beyond the rise of voltage: short pulses come from it, not through the source. One that resonates
 * above 400 times the frequency is left out, its inductor kept.
 * Never throws; bounded; see `converged`. Not covered: an emf below some 0.4 of the peak behind a large inductance,
 * where both diodes of a leg carry at once; the result is then an estimate without the inductance on the DC side and
 * without the capacitor but for its rise of voltage.
 */
export function conductUncontrolled(facts: UncontrolledBridge): Conduction {
  const scale = perUnit(facts);
  const { circuit, filter } = scale;
  const rise = filter === undefined ? 1 : riseAtRest(filter);
  if (!(circuit.emf + circuit.drop < rise)) return blockedBridge(facts, scale, rise);
  const found = steadyState(circuit, filter);
  if (Number.isFinite(found.periodic.residual)) return describe(facts, scale, rise, found);
  return estimate(facts, rise);
}

/** The bridge behind the raised voltage and all inductance in series, into a stiff battery. */
function estimate(facts: UncontrolledBridge, rise: number): Conduction {
  const { filter, ...bridge } = facts;
  const simpler = {
    ...bridge,
    lineVoltage: facts.lineVoltage * rise,
    sourceInductance: facts.sourceInductance + (filter?.inductance ?? 0),
    sourceResistance: facts.sourceResistance + (filter?.resistance ?? 0),
    dcInductance: 0,
  };
  const scale = perUnit(simpler);
  return { ...describe(simpler, scale, 1, steadyState(scale.circuit, undefined)), converged: false, residual: 1 };
}

interface PerUnit {
  readonly circuit: BridgeCircuit;
  readonly filter: FilterCircuit | undefined;
  readonly voltage: number;
  readonly current: number;
}

interface SteadyState {
  readonly network: Network;
  readonly periodic: Periodic;
}

/** Source inductances below a thousand-millionth of the largest impedance are raised to that, which no result shows. */
function perUnit(facts: UncontrolledBridge): PerUnit {
  const omega = 2 * Math.PI * facts.frequency;
  const reactance = omega * facts.sourceInductance;
  const dcReactance = omega * (facts.dcInductance ?? 0);
  const base = Math.max(reactance, facts.sourceResistance, dcReactance, facts.dcResistance, 1e-12);
  const voltage = Math.SQRT2 * facts.lineVoltage;
  const circuit: BridgeCircuit = {
    reactance: Math.max(reactance / base, 1e-9),
    resistance: facts.sourceResistance / base,
    dcReactance: dcReactance / base,
    dcResistance: facts.dcResistance / base,
    emf: facts.dcEmf / voltage,
    drop: (2 * (facts.diodeDrop ?? 0)) / voltage,
  };
  const scale = { voltage, current: voltage / base };
  if (facts.filter === undefined) return { circuit, filter: undefined, ...scale };
  const filter = filterCircuit(circuit, facts.filter, omega, base);
  if (filter.susceptance > 0 && matters(filter)) return { circuit: filter, filter, ...scale };
  return { circuit: inSeries(circuit, filter), filter: undefined, ...scale };
}

function inSeries(circuit: BridgeCircuit, filter: FilterCircuit): BridgeCircuit {
  return {
    ...circuit,
    reactance: circuit.reactance + filter.reactance,
    resistance: circuit.resistance + filter.resistance,
  };
}

/** The least inductance on either side of the capacitor is a thousandth of the other's. */
function filterCircuit(circuit: BridgeCircuit, filter: BridgeFilter, omega: number, base: number): FilterCircuit {
  const reactance = (omega * filter.inductance) / base;
  return {
    ...circuit,
    sourceReactance: Math.max(circuit.reactance, 1e-3 * reactance),
    sourceResistance: circuit.resistance,
    reactance: Math.max(reactance, 1e-3 * circuit.reactance),
    resistance: (filter.resistance ?? 0) / base,
    susceptance: omega * filter.capacitance * base,
    damping: (filter.dampingResistance ?? 0) / base,
  };
}

function matters(filter: FilterCircuit): boolean {
  const resonance = Math.sqrt((1 / filter.reactance + 1 / filter.sourceReactance) / filter.susceptance);
  return resonance < 400;
}

/** From no current on. */
function steadyState(circuit: BridgeCircuit, filter: FilterCircuit | undefined): SteadyState {
  const network = filter === undefined ? inductiveNetwork(circuit) : filterNetwork(filter);
  const behind = filter === undefined ? [] : atRest(filter, sectorStart);
  return { network, periodic: findPeriodic(network, [[0, 0, 0], ...behind]) };
}

function blockedBridge(facts: UncontrolledBridge, scale: PerUnit, rise: number): Conduction {
  const source = scale.filter === undefined ? 0 : restCurrent(scale.filter) * scale.current;
  const { dampingResistance = 0 } = facts.filter ?? {};
  const losses = 3 * (facts.sourceResistance + dampingResistance) * source ** 2;
  return {
    conducts: false,
    mode: 'none',
    openVoltage: facts.lineVoltage * rise,
    meanCurrent: 0,
    peakCurrent: 0,
    rmsCurrent: 0,
    phaseRms: 0,
    fundamentalRms: 0,
    sourceRms: source,
    displacementFactor: 1,
    idleShare: 1,
    sourcePower: losses,
    batteryPower: 0,
    losses,
    converged: true,
    residual: 0,
  };
}

/** Rms of the capacitor's current without conduction. */
function restCurrent(filter: FilterCircuit): number {
  return Math.hypot(...atRest(filter, 0)[0]) / Math.sqrt(3);
}

interface Means {
  dc: number;
  dcSquare: number;
  phaseSquare: number;
  sourceSquare: number;
  capacitorSquare: number;
  active: number;
  quadrature: number;
  power: number;
  idle: number;
  peak: number;
}

function describe(facts: UncontrolledBridge, scale: PerUnit, rise: number, found: SteadyState): Conduction {
  const means = meansOf(found);
  const { current, voltage } = scale;
  // At the edge of conduction the mean of currents near zero can round to just below it.
  const meanCurrent = Math.max(0, means.dc) * current;
  const fundamental = Math.hypot(means.active, means.quadrature);
  return {
    conducts: true,
    mode: means.idle > 1e-7 ? 'discontinuous' : 'continuous',
    openVoltage: facts.lineVoltage * rise,
    meanCurrent,
    peakCurrent: means.peak * current,
    rmsCurrent: Math.sqrt(means.dcSquare) * current,
    phaseRms: Math.sqrt(means.phaseSquare) * current,
    fundamentalRms: (fundamental * current * Math.SQRT2) / 3,
    sourceRms: Math.sqrt(means.sourceSquare) * current,
    displacementFactor: fundamental > 0 ? means.active / fundamental : 1,
    idleShare: means.idle,
    sourcePower: (means.power * current * voltage) / Math.sqrt(3),
    batteryPower: facts.dcEmf * meanCurrent,
    losses: lossesOf(facts, scale, means),
    converged: found.periodic.converged,
    residual: found.periodic.residual,
  };
}

function lossesOf(facts: UncontrolledBridge, scale: PerUnit, means: Means): number {
  const square = scale.current ** 2;
  const inFilter =
    (facts.filter?.resistance ?? 0) * means.phaseSquare +
    (facts.filter?.dampingResistance ?? 0) * means.capacitorSquare;
  const inDiodes = 2 * (facts.diodeDrop ?? 0) * means.dc * scale.current;
  const inSource = facts.sourceResistance * means.sourceSquare;
  return square * (3 * (inSource + inFilter) + facts.dcResistance * means.dcSquare) + inDiodes;
}

/** Means over one sector, which by symmetry are those over a period. */
function meansOf(found: SteadyState): Means {
  const means: Means = {
    dc: 0,
    dcSquare: 0,
    phaseSquare: 0,
    sourceSquare: 0,
    capacitorSquare: 0,
    active: 0,
    quadrature: 0,
    power: 0,
    idle: 0,
    peak: 0,
  };
  followSector(found.network, found.periodic.memory, (at, from, to, conducting) => {
    if (conducting) means.peak = Math.max(means.peak, peakOf(at, from, to));
    else means.idle += (to - from) / sector;
    overPanels(from, to, Math.min(sector / 6, (to - from) / 2), (angle, width) =>
      addTo(means, at, angle, width / sector),
    );
  });
  return means;
}

function addTo(means: Means, at: Stretch['at'], angle: number, weight: number): void {
  const { currents, dc, behind } = at(angle);
  const source = behind[0] ?? currents;
  means.dc += weight * dc;
  means.dcSquare += weight * dc * dc;
  for (const phase of [0, 1, 2] as const) {
    const current = currents[phase];
    const sine = Math.sin(angle + phaseAngles[phase]);
    means.phaseSquare += (weight * current * current) / 3;
    means.sourceSquare += (weight * source[phase] ** 2) / 3;
    means.capacitorSquare += (weight * (source[phase] - current) ** 2) / 3;
    means.active += weight * current * sine;
    means.quadrature += weight * current * Math.cos(angle + phaseAngles[phase]);
    means.power += weight * source[phase] * sine;
  }
}

/** The largest DC current of a stretch: the best of a scan, then golden section between its neighbours. */
function peakOf(at: Stretch['at'], from: number, to: number): number {
  const parts = 12;
  const step = (to - from) / parts;
  let best = 0;
  for (let part = 1; part <= parts; part++) {
    if (at(from + part * step).dc > at(from + best * step).dc) best = part;
  }
  let low = from + Math.max(0, best - 1) * step;
  let high = from + Math.min(parts, best + 1) * step;
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let round = 0; round < 24; round++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (at(left).dc > at(right).dc) high = right;
    else low = left;
  }
  return Math.max(at((low + high) / 2).dc, at(from + best * step).dc);
}
