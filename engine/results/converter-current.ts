// Current of the converter under its duties, against what is left of its rating where it stands.

import { magnitude, quotient, same } from './columns.ts';
import { dcFlow } from './dc-flow.ts';
import { defineResult } from './definition.ts';
import { dcSide, flow } from './flow.ts';
import { switchingFactor } from './loss-model.ts';

export const current = defineResult({
  name: 'current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Line current at the converter terminals that the duty needs, rms.',
  formula:
    'I_c = |Σ of ladder currents|, phasors stepped from the connection point through cables, transformer and filter',
  source: 'circuit theory: cascaded two-ports',
  compute: (read, at) => {
    const solved = read.step(read.self, flow, at);
    return solved?.ok === true ? solved.ladder.terminalCurrent : Number.NaN;
  },
});

export const ratedCurrent = defineResult({
  name: 'rated_current',
  on: 'converter',
  dimension: 'current',
  axes: [],
  worst: 'lowest',
  corners: 'extremes of the stated span',
  meaning:
    'Continuous line current that the converter may carry at this altitude, the highest ambient temperature and its switching frequency, rms.',
  formula: 'I_r = I_stated · k_altitude · k_ambient · k_switching',
  source: 'maker’s derating curves where stated; else common practice, no source: 1 % per 100 m above 1000 m',
  compute: read => {
    const altitude = read.at(read.self, 'altitude_derating', read.number(read.site, 'altitude'));
    const ambient = read.at(read.self, 'ambient_derating', read.number(read.site, 'ambient', 'high'));
    return read.number(read.self, 'ac_current') * altitude * ambient * switchingFactor(read);
  },
});

export const loading = defineResult({
  name: 'loading',
  on: 'converter',
  dimension: 'ratio',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Current that the duty needs, as a share of the derated rating.',
  formula: 'I_c / I_r',
  source: 'definition',
  taken: quotient(current, ratedCurrent),
});

export const loss = defineResult({
  name: 'loss',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Loss of the converter under the duty.',
  formula: 'P_v = a + b·I_c + c·I_c² + b_sw·I_c·U_dc/U_ref·f_sw/f_ref, or P·(1 − η)/η where an efficiency is stated',
  source: 'maker’s statement of the converter',
  taken: same(dcSide.figure.loss),
});

export const dcCurrent = defineResult({
  name: 'dc_current',
  on: 'converter',
  dimension: 'current',
  axes: ['duty', 'direction', 'voltage', 'soc'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Direct current at the converter’s DC terminals, as a magnitude. Converters on one battery are taken to share its current by their ratings; on a net of cables each draws what its own power asks for, where the duty leaves no doubt what that is.',
  formula: 'I = (E − √(E² − 4·R·P)) / (2·R), behind a chopper with U_link for E',
  source: 'P = I·(E − I·R) solved for I',
  taken: magnitude(dcFlow.figure.current),
});

export const converterCurrentResults = [ratedCurrent, current, loading, loss, dcCurrent];
