// Loss of the converter in parts, what of it warms the room, and what another switching frequency would do.
import { polynomialLoss } from '../physics/converter.ts';
import { current, loss } from './converter-current.ts';
import { type At, defineResult } from './definition.ts';
import { leastSwitchingFrequency } from './filter.ts';
import { customarySwitchingShare, polynomialOf } from './loss-model.ts';
import { orZero } from './or-zero.ts';

const noPoint: At = { direction: 0, voltage: 0, soc: 0 };

export const switchingLoss = defineResult({
  name: 'loss_switching',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Part of the loss that switching makes under the duty, at the highest DC voltage at rest; known where `switching_loss` is stated.',
  formula: 'P_sw = b_sw · I_c · U_dc/U_ref · f_sw/f_ref',
  source: 'maker’s statement of the converter; in proportion to DC voltage and frequency: common practice, no source',
  compute: (read, at) => {
    const model = polynomialOf(read);
    if (model?.switching === undefined) return Number.NaN;
    const part = { kind: 'polynomial', fixed: 0, linear: 0, quadratic: 0, switching: model.switching } as const;
    return polynomialLoss(part, read.value(read.self, current, at)) ?? Number.NaN;
  },
});

export const conductionLoss = defineResult({
  name: 'loss_conducting',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Part of the loss that the current makes by flowing; known where `linear_loss` or `quadratic_loss` is stated.',
  formula: 'P_con = b·I_c + c·I_c²',
  source: 'maker’s statement of the converter',
  compute: (read, at) => {
    const linear = read.number(read.self, 'linear_loss');
    const quadratic = read.number(read.self, 'quadratic_loss');
    if (Number.isNaN(linear) && Number.isNaN(quadratic)) return Number.NaN;
    const amperes = read.value(read.self, current, at);
    return (orZero(linear) + orZero(quadratic) * amperes) * amperes;
  },
});

export const lossAtLeastFrequency = defineResult({
  name: 'loss_at_least_frequency',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning:
    'Loss under the duty if it switched just so fast that the ripple of its filter meets the practice: what the switching frequency costs or saves, beside `loss`. Not looked at: resonance, distortion, dead time.',
  formula: 'P = P_v + P_sw · (f_least / f_sw − 1); P_sw as stated, else half of P_v',
  source: 'in proportion to the frequency: common practice, no source; half of the loss: common practice, no source',
  compute: (read, at) => {
    const tag = read.route(read.self)?.ac.findLast(({ kind }) => kind === 'filter')?.tag;
    const filter = tag === undefined ? undefined : read.component(tag);
    if (filter === undefined) return Number.NaN;
    const ratio = read.value(filter, leastSwitchingFrequency, noPoint) / read.number(read.self, 'switching_frequency');
    const whole = read.value(read.self, loss, at);
    const stated = read.value(read.self, switchingLoss, at);
    const switched = Number.isNaN(stated) ? customarySwitchingShare * whole : stated;
    return whole + switched * (ratio - 1);
  },
});

export const roomHeat = defineResult({
  name: 'heat_to_room',
  on: 'converter',
  dimension: 'active_power',
  axes: ['duty', 'direction', 'voltage'],
  worst: 'highest',
  corners: 'nominal parts',
  meaning: 'Part of the loss under the duty that warms the room; the rest leaves with the coolant.',
  formula: 'P_room = share · P_v',
  source: 'as stated; else all with air, 10 % with liquid cooling: common practice, no source',
  compute: (read, at) => {
    const stated = read.number(read.self, 'room_heat');
    const share = Number.isNaN(stated) ? (read.word(read.self, 'cooling') === 'liquid' ? 0.1 : 1) : stated;
    return share * read.value(read.self, loss, at);
  },
});

export const converterLossResults = [conductionLoss, switchingLoss, lossAtLeastFrequency, roomHeat];
