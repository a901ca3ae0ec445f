// The start of an island whose network is dead: what charges filters and magnetises transformers asks of the converter.
import { customaryRushTime, inrush } from '../physics/inrush.ts';
import { seriesImpedanceReferredToConverter, solveLadder } from '../physics/ladder.ts';
import { type AcPart, type AcPath, acPathUnder } from './ac-path.ts';
import { ratedCurrent } from './converter-current.ts';
import { defineResult, defineStep } from './definition.ts';
import { forms } from './flow.ts';
import { shortTimeRatio } from './overload.ts';
import type { Read } from './read.ts';

const noPoint = { direction: 0, voltage: 0, soc: 0 };

/** Of what is switched on at full voltage, the transformer that asks for most, and its peak at the converter, A. */
interface Rush {
  readonly transformer: string;
  readonly peak: number;
}

/** None where the duty does not ask for it, or nothing is switched on at full voltage. */
export const blackStartRush = defineStep<Rush | undefined>({
  name: 'black_start_rush',
  on: 'converter',
  axes: ['duty'],
  compute: read => {
    const path = pathFromDead(read);
    return path === undefined ? undefined : greatestRush(read, path);
  },
});

/** Undefined where the duty does not ask for it, or a fact on the way is missing. */
function pathFromDead(read: Read): AcPath | undefined {
  if (!forms(read, read.demand) || read.word(read.demand, 'black_start') !== 'yes') return undefined;
  return acPathUnder(read);
}

function greatestRush(read: Read, path: AcPath): Rush | undefined {
  let most: Rush | undefined;
  for (const part of path.parts) {
    const peak = rushOf(read, path, part);
    if (peak !== undefined && !(most !== undefined && most.peak >= peak)) most = { transformer: part.tag, peak };
  }
  return most;
}

/** The choke and what else stands before the winding lowers the rush. Converters that share the transformer share it. */
function rushOf(read: Read, path: AcPath, { tag, to, share }: AcPart): number | undefined {
  const transformer = read.component(tag);
  if (transformer?.kind.name !== 'transformer' || read.word(transformer, 'magnetised_from') === 'converter_side')
    return undefined;
  const between = path.elements.slice(to);
  const ratio = between.reduce((product, element) => (element.kind === 'ratio' ? product * element.ratio : product), 1);
  const series = seriesImpedanceReferredToConverter(between, { resistance: 0, reactance: 0 });
  const passed = read.route(read.self)?.ac.find(element => element.tag === tag);
  if (!series.ok || passed === undefined) return undefined;
  const found = inrush({
    ratedPower: read.number(transformer, 'rated_power') * share,
    voltage: read.number(transformer, passed.reversed ? 'primary_voltage' : 'secondary_voltage'),
    multiple: read.number(transformer, 'inrush'),
    network: { resistance: series.resistance * ratio * ratio, reactance: series.reactance * ratio * ratio },
  });
  return found.ok ? found.peak * ratio : undefined;
}

export const blackStartCurrent = defineResult({
  name: 'black_start_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Line current at the converter terminals once it has built up the voltage of a dead network: filter and magnetising, no load yet, rms.',
  formula: 'I = |ladder without load|, the voltage held at the connection point; converters that share a part share it',
  source: 'circuit theory: cascaded two-ports',
  compute: read => {
    const path = pathFromDead(read);
    const grid = path && read.route(read.self)?.grid;
    const network = grid === undefined ? undefined : read.component(grid);
    if (path === undefined || network === undefined) return Number.NaN;
    const idle = solveLadder(path.elements, read.number(network, 'voltage'), 0, 0);
    return idle.ok ? idle.terminalCurrent : Number.NaN;
  },
});

export const blackStartPeak = defineResult({
  name: 'black_start_peak',
  on: 'converter',
  dimension: 'current',
  axes: ['duty'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'First peak at the converter terminals when it switches a transformer of a dead network on at full voltage, at the worst instant: an order of magnitude. None where all are magnetised while it builds the voltage up.',
  formula: 'î = k·√2·I_r,T · X_s / |Z_choke + Z_cable + j·X_s|, X_s = Z_r,T / k',
  source: '`inrush` as the maker states it, taken for either side; else 10 times, common practice, no source',
  compute: read => read.step(read.self, blackStartRush, noPoint)?.peak ?? Number.NaN,
});

export const shortTimePeak = defineResult({
  name: 'short_time_peak',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning: 'Peak of the line current that the converter may carry while a rush lasts, for a second.',
  formula: 'î = √2 · I_r · overload, the one that is stated, or that the class has, for 1 s or longer',
  source: 'maker’s statement of the converter; 1 s: common practice, no source',
  compute: read =>
    Math.SQRT2 * read.value(read.self, ratedCurrent, noPoint) * shortTimeRatio(read, customaryRushTime.taken),
});

export const blackStartResults = [blackStartCurrent, blackStartPeak, shortTimePeak];
