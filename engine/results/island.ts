// An island whose voltage the converter forms: what a load step or a motor start asks of it, and how far the voltage dips.
import type { Component } from '../model/plant.ts';
import { type LadderSolution, seriesImpedanceReferredToConverter, solveLadder } from '../physics/ladder.ts';
import { type IslandStart, islandStart, type Load, runningLoad, startingLoad } from '../physics/motor-start.ts';
import { acPathUnder } from './ac-path.ts';
import { ratedCurrent } from './converter-current.ts';
import { modulationFactor } from './converter-voltage.ts';
import { dcFlowOver } from './dc-flow.ts';
import { defineResult, defineStep, type Result, type Step } from './definition.ts';
import { forms } from './flow.ts';
import { shortTimeRatio } from './overload.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 1, soc: 0 };

interface Outcome {
  /** The voltage held at the connection point. */
  readonly held: LadderSolution;
  /** The converter a stiff voltage up to its current limit. */
  readonly start: IslandStart;
}

type Kind = 'load_step' | 'motor_start';

/** What runs and what comes to it at once: power at rated voltage, W and var taken. */
function loadsOf(read: Read, duty: Component, kind: Kind): readonly Load[] | undefined {
  const power = read.number(duty, kind);
  if (Number.isNaN(power) || !forms(read, duty)) return undefined;
  const motor = {
    power,
    efficiency: read.number(duty, 'motor_efficiency'),
    powerFactor: read.number(duty, 'motor_power_factor'),
    startMultiple: read.number(duty, 'start_current_ratio'),
    startPowerFactor: read.number(duty, 'start_power_factor'),
  };
  const sudden =
    kind === 'motor_start' ? startingLoad(motor) : loadAt(power, read.number(duty, 'load_step_power_factor'));
  const later = kind === 'motor_start' ? runningLoad(motor)?.active : power;
  if (sudden === undefined || later === undefined) return undefined;
  const running = runningBeside(read, duty, later);
  return running === undefined ? undefined : [running, sudden];
}

/** As stated; else the rest of the lasting power, at its power factor. Loads take up reactive power. */
function runningBeside(read: Read, duty: Component, later: number): Load | undefined {
  const discharge = read.number(duty, 'discharge');
  const stated = read.number(duty, 'running_load');
  const active = Number.isNaN(stated) ? Math.max(0, (Number.isNaN(discharge) ? 0 : discharge) - later) : stated;
  const reactive = read.number(duty, 'reactive');
  if (!Number.isNaN(reactive) && discharge > 0) return { active, reactive: (Math.abs(reactive) * active) / discharge };
  return loadAt(active, read.number(duty, 'power_factor'));
}

function loadAt(active: number, powerFactor: number): Load | undefined {
  if (!(powerFactor > 0 && powerFactor <= 1)) return undefined;
  return { active, reactive: active * Math.sqrt(1 / (powerFactor * powerFactor) - 1) };
}

export const shortTimeCurrent = defineResult({
  name: 'short_time_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty'],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Line current that the converter may carry for the time of a motor start: its overload, or that of its duty class, where it lasts long enough, else its rating; rms.',
  formula: 'I_short = I_r · overload, the one that is stated, or that the class has, for start_time or longer',
  source: 'maker’s statement of the converter; IEC 60146-1-1, duty classes (from memory)',
  compute: read =>
    read.value(read.self, ratedCurrent, noPoint) * shortTimeRatio(read, read.number(read.demand, 'start_time')),
});

function outcomeOf(kind: Kind, limit: Result) {
  return {
    name: `${kind}_outcome`,
    on: 'converter',
    axes: ['duty'],
    compute: (read: Read): Outcome | undefined => {
      const whole = loadsOf(read, read.demand, kind);
      if (whole === undefined) return undefined;
      const path = acPathUnder(read);
      const route = read.route(read.self);
      const grid = route?.grid === undefined ? undefined : read.component(route.grid);
      if (path === undefined || route === undefined || grid === undefined) return undefined;
      const voltage = read.number(grid, 'voltage');
      const loads = whole.map(({ active, reactive }) => ({
        active: active * route.gridShare,
        reactive: reactive * route.gridShare,
      }));
      const sum = (of: keyof Load): number => loads.reduce((total, load) => total + load[of], 0);
      const held = solveLadder(path.elements, voltage, sum('active'), sum('reactive'));
      const inner = seriesImpedanceReferredToConverter(path.elements, { resistance: 0, reactance: 0 });
      if (!held.ok || !inner.ok) return undefined;
      const square = path.ratio * path.ratio;
      const start = islandStart({
        voltage,
        currentLimit: read.value(read.self, limit, noPoint) / path.ratio,
        series: { resistance: inner.resistance * square, reactance: inner.reactance * square },
        loads,
      });
      return start.ok ? { held, start } : undefined;
    },
  } as const;
}

const stepOutcome = defineStep<Outcome | undefined>(outcomeOf('load_step', ratedCurrent));
const startOutcome = defineStep<Outcome | undefined>(outcomeOf('motor_start', shortTimeCurrent));

type Outcomes = Step<Outcome | undefined>;

const common = { on: 'converter', axes: ['duty'], corners: 'nominal parts', worst: 'highest' } as const;

const currentOf = (what: string, name: string, outcomes: Outcomes) =>
  ({
    ...common,
    name,
    dimension: 'current',
    meaning: `Line current at the converter terminals that ${what} on its island needs, the voltage held, rms.`,
    formula: 'I = |ladder at the running load and what is added|, the voltage held at the connection point',
    source: 'circuit theory: cascaded two-ports',
    compute: (read: Read) => read.step(read.self, outcomes, noPoint)?.held.terminalCurrent ?? Number.NaN,
  }) as const;

const dipOf = (what: string, name: string, outcomes: Outcomes) =>
  ({
    ...common,
    name,
    dimension: 'ratio',
    meaning: `Fall of the voltage at the connection point at the instant of ${what}, before any control, as a ratio of the nominal.`,
    formula: '1 − U/U_n, converter as a stiff voltage up to its current limit, loads as impedances, shunts left out',
    source: 'circuit theory: voltage divider; loads that keep their power fare worse',
    compute: (read: Read) => read.step(read.self, outcomes, noPoint)?.start.dip ?? Number.NaN,
  }) as const;

const reserveOf = (what: string, name: string, outcomes: Outcomes) =>
  ({
    ...common,
    name,
    dimension: 'ratio',
    worst: 'lowest',
    meaning: `What the converter can make above what ${what} needs to hold the voltage, the battery at the bottom of its span.`,
    formula: 'k · U_dc / U_c − 1',
    source: 'definition',
    compute: (read: Read) => {
      const outcome = read.step(read.self, outcomes, noPoint);
      if (outcome === undefined) return Number.NaN;
      const direct = dcFlowOver(read, noPoint)(outcome.held);
      if (direct === undefined) return Number.NaN;
      // No current delivers the power: there is no voltage at all to spare.
      if (!direct.ok) return -1;
      const factor = read.value(read.self, modulationFactor, noPoint);
      return (factor * direct.converterVoltage) / outcome.held.terminalVoltage - 1;
    },
  }) as const;

export const loadStepCurrent = defineResult({ ...currentOf('a load step', 'load_step_current', stepOutcome) });
export const loadStepDip = defineResult({ ...dipOf('a load step', 'load_step_dip', stepOutcome) });
export const loadStepReserve = defineResult({ ...reserveOf('a load step', 'load_step_reserve', stepOutcome) });
export const motorStartCurrent = defineResult({ ...currentOf('a motor start', 'motor_start_current', startOutcome) });
export const motorStartDip = defineResult({ ...dipOf('a motor start', 'motor_start_dip', startOutcome) });
export const motorStartReserve = defineResult({ ...reserveOf('a motor start', 'motor_start_reserve', startOutcome) });

export const islandResults = [
  shortTimeCurrent,
  loadStepCurrent,
  loadStepDip,
  loadStepReserve,
  motorStartCurrent,
  motorStartDip,
  motorStartReserve,
];
