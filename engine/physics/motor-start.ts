// Motors and load steps on a converter that feeds an island: what current they want, and what its limit leaves of the
// voltage.
//
// Loads are impedances here, which starting motors are while they stand still; the converter is a stiff voltage up to
// its current limit, and a stiff current of that size beyond it. No run-up, no control: for a first judgement.

import { add, type Complex, complex, divide, magnitude } from './complex.ts';
import type { Impedance, ImpossibleInput } from './ladder.ts';

/**
 * Of squirrel-cage motors switched straight on: starting over rated current, 5 to 8, and power factor at standstill, 0.2
 * to 0.4 (common practice, no source).
 */
const customaryMultiple = 6;
const customaryPowerFactor = 0.3;

export type Motor = {
  /** Shaft power, W. */
  readonly power: number;
  /** Ratios at rated load. */
  readonly efficiency: number;
  readonly powerFactor: number;
  /** Starting over rated current; 6 if not given. */
  readonly startMultiple?: number;
  /** At standstill; 0.3 if not given. */
  readonly startPowerFactor?: number;
};

/** Three-phase power at rated voltage: W, and var taken. */
export type Load = { readonly active: number; readonly reactive: number };

/** Power that a motor takes at rated load: P/η, and the var that go with its power factor. */
export const runningLoad = ({ power, efficiency, powerFactor }: Motor): Load | undefined =>
  power >= 0 && isShare(efficiency) ? loadOf(power / efficiency / powerFactor, powerFactor) : undefined;

/** Power that a motor takes at standstill, at rated voltage: its rated apparent power times the multiple. */
export function startingLoad(motor: Motor): Load | undefined {
  const { power, efficiency, powerFactor } = motor;
  const { startMultiple = customaryMultiple, startPowerFactor = customaryPowerFactor } = motor;
  if (!(power >= 0 && isShare(efficiency) && isShare(powerFactor) && startMultiple > 0)) return undefined;
  return loadOf((startMultiple * power) / efficiency / powerFactor, startPowerFactor);
}

export type Island = {
  /** Voltage that the converter holds, and rated voltage of the loads, V line to line. */
  readonly voltage: number;
  /** Greatest current of the converter for the time that a start takes, A rms. */
  readonly currentLimit: number;
  /** Transformer, filter and cable between converter and loads, ohm per phase on the loads' side. */
  readonly series?: Impedance;
  /** What the loads take together at rated voltage: running ones and the one that starts. */
  readonly loads: readonly Load[];
};

export type IslandStart = {
  readonly ok: true;
  /** Current that the loads draw, and that they would draw without the limit, A rms. */
  readonly current: number;
  readonly wanted: number;
  readonly limited: boolean;
  /** V line to line, at the converter and at the loads. */
  readonly converterVoltage: number;
  readonly loadVoltage: number;
  /** Fall of the voltage at the loads below rated, ratio. */
  readonly dip: number;
  /** Starting torque over that at rated voltage: the square of the voltage's ratio. */
  readonly torque: number;
  /** What the converter gives, W and var. */
  readonly active: number;
  readonly reactive: number;
};

/** The instant of a start: current, and voltage left by the impedance in between and by the current limit. */
export function islandStart(island: Island): IslandStart | ImpossibleInput {
  const { voltage, currentLimit, series = { resistance: 0, reactance: 0 }, loads } = island;
  const total = sumOf(loads);
  const possible = voltage > 0 && currentLimit > 0 && series.resistance >= 0 && series.reactance >= 0;
  if (!possible || total.active < 0 || !Number.isFinite(total.active + total.reactive)) return impossibleInput;
  const load = divide(complex(voltage * voltage, 0), complex(total.active, -total.reactive));
  if (load === undefined) return nothingDrawn(voltage);
  const whole = add(load, complex(series.resistance, series.reactance));
  const wanted = voltage / (Math.sqrt(3) * magnitude(whole));
  if (!Number.isFinite(wanted)) return impossibleInput;
  const current = Math.min(wanted, currentLimit);
  return startOf(voltage, current, wanted, load, whole);
}

function startOf(voltage: number, current: number, wanted: number, load: Complex, whole: Complex): IslandStart {
  const kept = current / wanted;
  const loadVoltage = (kept * voltage * magnitude(load)) / magnitude(whole);
  const ratio = loadVoltage / voltage;
  return {
    ok: true,
    current,
    wanted,
    limited: current < wanted,
    converterVoltage: kept * voltage,
    loadVoltage,
    dip: 1 - ratio,
    torque: ratio * ratio,
    active: 3 * current * current * whole.re,
    reactive: 3 * current * current * whole.im,
  };
}

const nothingDrawn = (voltage: number): IslandStart => ({
  ok: true,
  current: 0,
  wanted: 0,
  limited: false,
  converterVoltage: voltage,
  loadVoltage: voltage,
  dip: 0,
  torque: 1,
  active: 0,
  reactive: 0,
});

function loadOf(apparent: number, powerFactor: number): Load | undefined {
  if (!(isShare(powerFactor) && Number.isFinite(apparent))) return undefined;
  return { active: apparent * powerFactor, reactive: apparent * Math.sqrt(1 - powerFactor * powerFactor) };
}

const sumOf = (loads: readonly Load[]): Load =>
  loads.reduce((sum, load) => ({ active: sum.active + load.active, reactive: sum.reactive + load.reactive }), {
    active: 0,
    reactive: 0,
  });

const isShare = (value: number): boolean => value > 0 && value <= 1;

const impossibleInput: ImpossibleInput = { ok: false, problem: 'impossible_input' };
