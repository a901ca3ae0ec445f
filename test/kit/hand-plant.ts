// The sample plant worked out apart from the engine: complex numbers and formulas written down here, none of its modules.
//
// Circuit theory with the plant's facts. Phasors are per phase to neutral, unlike in the engine; currents flow from the
// converter towards the network.

export interface Complex {
  readonly re: number;
  readonly im: number;
}

export const complex = (re: number, im = 0): Complex => ({ re, im });
export const plus = (a: Complex, b: Complex): Complex => complex(a.re + b.re, a.im + b.im);
export const minus = (a: Complex, b: Complex): Complex => complex(a.re - b.re, a.im - b.im);
export const times = (a: Complex, b: Complex): Complex => complex(a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re);
export const conjugate = (a: Complex): Complex => complex(a.re, -a.im);
export const size = (a: Complex): number => Math.sqrt(a.re * a.re + a.im * a.im);
export const over = (a: Complex, b: Complex): Complex => {
  const { re, im } = times(a, conjugate(b));
  return complex(re / (b.re * b.re + b.im * b.im), im / (b.re * b.re + b.im * b.im));
};
const scaled = (a: Complex, by: number): Complex => complex(a.re * by, a.im * by);

/** Facts of `valley-station.plant` and its parts, copied by hand. */
export const facts = {
  network: 400,
  omega: 2 * Math.PI * 50,
  faultPower: { least: 9e6, greatest: 14e6 },
  xOverR: 5,
  rating: 500e3,
  winding: 360,
  impedance: 0.06,
  loadLoss: 5800,
  noLoadLoss: 800,
  /** Assumed by the tool, common practice, no source. */
  noLoadCurrent: 0.01,
  choke: 100e-6,
  capacitor: 300e-6,
  damping: 0.06,
  converterRating: 850,
  altitude: 1920,
  /** Assumed by the tool, common practice, no source. */
  converterEfficiency: 0.98,
  cells: 224,
  strings: 4,
  capacity: 280 * 3600,
  /** Of a string, ohm, at 25 °C and at 15 °C. */
  resistance: { warm: 0.14, cool: 0.19 },
};

/**
 * Four copper conductors of 240 mm² a phase, 35 m: 0.0754 Ω/km at 20 °C (IEC 60228), at 90 °C by its form
 * (234.5 + ϑ)/254.5, with the skin effect of IEC 60287-1-1 (from memory); 0.08 Ω/km (IEC 60364-5-52, from memory).
 */
export function cableImpedance(): Complex {
  const direct = (0.0754e-3 * (234.5 + 90)) / 254.5;
  const square = (8 * Math.PI * 50 * 1e-7) / direct;
  const skin = 1 + square ** 2 / (192 + 0.8 * square ** 2);
  return complex((35 / 4) * direct * skin, (35 / 4) * 0.08e-3);
}

/** Both poles of two copper conductors of 185 mm², 12 m: 0.0991 Ω/km at 20 °C (IEC 60228), at 90 °C. */
export const dcCable = (2 * 12 * 0.0991e-3 * ((234.5 + 90) / 254.5)) / 2;

/** Series impedance of the transformer, seen from the winding at the converter. */
export function transformerImpedance(winding = facts.winding, impedance = facts.impedance): Complex {
  const base = winding ** 2 / facts.rating;
  const resistance = facts.loadLoss / facts.rating;
  return complex(resistance * base, Math.sqrt(impedance ** 2 - resistance ** 2) * base);
}

/** Its magnetising branch at the network's side. */
export function magnetising(): Complex {
  const loss = facts.noLoadLoss / facts.rating;
  const base = facts.rating / facts.network ** 2;
  return complex(loss * base, -Math.sqrt(facts.noLoadCurrent ** 2 - loss ** 2) * base);
}

/** Capacitor and damping resistor in series, as an admittance. */
export function capacitorBranch(): Complex {
  return over(complex(1), complex(facts.damping, -1 / (facts.omega * facts.capacitor)));
}

export interface Loaded {
  /** Line to line, V. */
  readonly terminalVoltage: number;
  /** A of a line. */
  readonly terminalCurrent: number;
  readonly secondaryCurrent: number;
  readonly terminalPower: number;
  readonly transformerLoss: number;
  readonly cableLoss: number;
  readonly filterLoss: number;
}

/** From power at the connection point to the converter's terminals, element by element. */
export function loaded(network: number, active: number, reactive: number, winding = facts.winding): Loaded {
  const ratio = facts.network / winding;
  const voltage = complex(network / Math.sqrt(3));
  // S = 3·U·I*, so I = (S / 3U)*.
  const current = conjugate(over(complex(active / 3, reactive / 3), voltage));
  const atPrimary = plus(voltage, times(cableImpedance(), current));
  const intoPrimary = plus(current, times(magnetising(), atPrimary));
  const secondaryCurrent = scaled(intoPrimary, ratio);
  const atCapacitor = plus(scaled(atPrimary, 1 / ratio), times(transformerImpedance(winding), secondaryCurrent));
  const terminalCurrent = plus(secondaryCurrent, times(capacitorBranch(), atCapacitor));
  const terminal = plus(atCapacitor, times(complex(0, facts.omega * facts.choke), terminalCurrent));
  const power = (u: Complex, i: Complex): number => 3 * times(u, conjugate(i)).re;
  return {
    terminalVoltage: Math.sqrt(3) * size(terminal),
    terminalCurrent: size(terminalCurrent),
    secondaryCurrent: size(secondaryCurrent),
    terminalPower: power(terminal, terminalCurrent),
    transformerLoss: power(atCapacitor, secondaryCurrent) - power(atPrimary, current),
    cableLoss: 3 * cableImpedance().re * size(current) ** 2,
    filterLoss: power(atCapacitor, terminalCurrent) - power(atCapacitor, secondaryCurrent),
  };
}

/**
 * Crest at the blocked converter: the highest network voltage behind the weakest network's impedance, transformer
 * impedance a tenth above its nominal and ratio half a per cent low, both admittances in place; node equations.
 */
export function blockedCrest(winding = facts.winding): number {
  const ratio = (facts.network / winding) * (1 - 0.005);
  const scalar = facts.network ** 2 / facts.faultPower.least;
  const resistance = scalar / Math.sqrt(1 + facts.xOverR ** 2);
  const before = plus(complex(resistance, resistance * facts.xOverR), cableImpedance());
  const behind = transformerImpedance(winding, facts.impedance * 1.1);
  // Behind the ideal ratio the magnetising branch and what stands before it look 1/ratio² and ratio² as large.
  const source = complex((facts.network * 1.1) / ratio);
  const sourceImpedance = scaled(before, 1 / ratio ** 2);
  const shunt = scaled(magnetising(), ratio ** 2);
  const admittance = capacitorBranch();
  const branch = over(admittance, plus(complex(1), times(admittance, behind)));
  const node = over(source, plus(complex(1), times(sourceImpedance, plus(shunt, branch))));
  const capacitor = over(node, plus(complex(1), times(admittance, behind)));
  return Math.SQRT2 * size(capacitor);
}

const cellVoltages = [
  [0, 2.6],
  [0.1, 3.2],
  [0.5, 3.29],
  [0.9, 3.34],
  [1, 3.4],
] as const;

/** Rest voltage of the battery, linear between the stated points. */
export function restVoltage(soc: number): number {
  for (let index = 1; index < cellVoltages.length; index++) {
    const [x0, y0] = cellVoltages[index - 1]!;
    const [x1, y1] = cellVoltages[index]!;
    if (soc <= x1) return facts.cells * (y0 + ((y1 - y0) * (soc - x0)) / (x1 - x0));
  }
  throw new Error(`no state of charge: ${soc}`);
}

/** Current (A) that delivers a power at the converter's DC side; negative while charging. */
export function directCurrent(power: number, soc: number, stringResistance: number): number {
  const resistance = stringResistance / facts.strings + dcCable;
  const voltage = restVoltage(soc);
  return (voltage - Math.sqrt(voltage ** 2 - 4 * resistance * power)) / (2 * resistance);
}

/** Seconds from the top to the bottom at constant power at the converter's DC side, in steps of a tenth of a second. */
export function dischargeSeconds(power: number, stringResistance: number, stateOfHealth: number): number {
  const charge = facts.capacity * facts.strings * stateOfHealth;
  const step = 0.1;
  let soc = 0.9;
  let time = 0;
  while (soc > 0.1) {
    const halfway = soc - (directCurrent(power, soc, stringResistance) * step) / 2 / charge;
    const used = (directCurrent(power, halfway, stringResistance) * step) / charge;
    if (soc - used <= 0.1) return time + (step * (soc - 0.1)) / used;
    soc -= used;
    time += step;
  }
  return time;
}
