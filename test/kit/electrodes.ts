// Two lithium cells from published electrode functions: an outside oracle for the voltage at rest.

// Functions and parameters seen in pybamm-team/PyBaMM (BSD-3-Clause), commit 7c9f5bd8, Prada2013.py and Chen2020.py.
// Graphite and NMC811: Chen et al., J. Electrochem. Soc. 167 (2020) 080534. LFP: Afshar et al., arXiv:1709.03970.
const { exp, tanh } = Math;
/** C/mol: e·N_A in the SI of 2019, from memory. */
const faraday = 96_485.33212;

const graphite = (x: number): number =>
  1.9793 * exp(-39.3631 * x) +
  0.2482 -
  0.0909 * tanh(29.8538 * (x - 0.1234)) -
  0.04478 * tanh(14.9159 * (x - 0.2769)) -
  0.0205 * tanh(30.4444 * (x - 0.6103));
const nickel = (y: number): number =>
  -0.809 * y +
  4.4875 -
  0.0428 * tanh(18.5138 * (y - 0.5542)) -
  17.7326 * tanh(15.789 * (y - 0.3117)) +
  17.5842 * tanh(15.9308 * (y - 0.312));
const iron = (y: number): number => 3.4077 - 0.020269 * y + 0.5 * exp(-150 * y) - 0.9 * exp(-30 * (1 - y));

/** Ah of an electrode: area m², share of active material, thickness m, greatest concentration mol/m³. */
const capacity = (area: number, share: number, thickness: number, concentration: number): number =>
  (faraday * area * share * thickness * concentration) / 3600;

export interface PublishedCell {
  /** Voltage at rest (V) over the state of charge (0…1) between the voltage limits of the set. */
  readonly rest: (soc: number) => number;
  /** Ah between them. */
  readonly capacity: number;
}

export const publishedCells: Readonly<Record<'lfp' | 'nmc', PublishedCell>> = {
  lfp: balance(iron, capacity(0.18, 0.374, 80e-6, 22_806), capacity(0.18, 0.58, 34e-6, 30_555), 0.0038, 0.81, 2, 3.6),
  nmc: balance(
    nickel,
    capacity(0.1027, 0.665, 75.6e-6, 63_104),
    capacity(0.1027, 0.75, 85.2e-6, 33_133),
    17_038 / 63_104,
    29_866 / 33_133,
    2.5,
    4.2,
  ),
};

/** The lithium that leaves one electrode fills the other; empty and full lie where the voltage meets its limits. */
function balance(
  positive: (y: number) => number,
  positiveCapacity: number,
  negativeCapacity: number,
  y: number,
  x: number,
  lowest: number,
  highest: number,
): PublishedCell {
  const lithium = y * positiveCapacity + x * negativeCapacity;
  const voltage = (filling: number) =>
    positive((lithium - filling * negativeCapacity) / positiveCapacity) - graphite(filling);
  const fillingAt = (volts: number) => {
    let low = Math.max(0, (lithium - positiveCapacity) / negativeCapacity);
    let high = Math.min(1, lithium / negativeCapacity);
    for (let step = 0; step < 80; step++) {
      const middle = (low + high) / 2;
      if (voltage(middle) < volts) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const empty = fillingAt(lowest);
  const full = fillingAt(highest);
  return { rest: soc => voltage(empty + soc * (full - empty)), capacity: (full - empty) * negativeCapacity };
}
