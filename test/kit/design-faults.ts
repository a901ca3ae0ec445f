// Mistakes of the designer: voltage, current, energy, filter and harmonics.
import {
  absorbing,
  amperes,
  batteryCurrent,
  both,
  capacitor,
  type Fault,
  passive,
  perCell,
  percent,
  rated,
  rule,
  running,
  spent,
  state,
  where,
} from './fault.ts';
import { ratings } from './hand-rules.ts';
import { wordsOf } from './plant-design.ts';
import { number, type SoundPlant } from './sound-plants.ts';
import { voltageFaults } from './voltage-faults.ts';

const parallelOf = ({ design }: SoundPlant): number => Number(wordsOf(design, 'networkCable', 'parallel') ?? 'NaN');

/** Least A/mm² of the cable to the network: without reactive power. */
function networkDensity(plant: SoundPlant): number {
  const { power, network } = plant.hand;
  const section = Number.parseFloat(wordsOf(plant.design, 'networkCable', 'cross_section') ?? 'NaN');
  const parallel = parallelOf(plant);
  return parallel > 15 ? 0 : power / (Math.sqrt(3) * network * parallel * section);
}

const currentFaults: readonly Fault[] = [
  {
    name: 'a converter one size too small',
    code: 'converter_loading',
    on: 'converter',
    put: state('converter', 'ac_current', ({ hand }) => amperes((0.9 * hand.lineCurrent) / hand.derating)),
  },
  {
    name: 'an overload too short for the duty',
    code: 'converter_overload',
    on: 'converter',
    put: both(
      state('converter', 'ac_current', ({ hand }) => amperes((0.8 * hand.lineCurrent) / hand.derating)),
      state('converter', 'overload', () => '150 % for 10 s every 3600 s'),
    ),
  },
  {
    name: 'a transformer one rating too small',
    code: 'transformer_loading',
    on: 'transformer',
    put: state('transformer', 'rated_power', ({ hand }) => {
      const rating = ratings.findLast(value => value <= 0.96 * hand.neededRating);
      return rating === undefined ? undefined : `${number(rating / 1000)} kVA`;
    }),
  },
  {
    name: 'a converter full of low harmonics before a winding full of eddy loss',
    code: 'harmonic_loading',
    on: 'transformer',
    put: both(
      state('transformer', 'eddy_loss', () => '50 %'),
      state('converter', 'harmonics', () => 'curve order { 5 12 %, 7 12 %, 11 10 %, 13 10 % }'),
    ),
  },
  {
    name: 'a house rule of more spare',
    code: 'transformer_spare',
    on: 'transformer',
    put: where(
      rated,
      rule('transformer_spare', ({ hand }) => percent(1 - (0.94 * hand.neededRating) / hand.rating)),
    ),
  },
  {
    name: 'strings too few',
    code: 'battery_current',
    on: 'battery',
    put: state('battery', 'strings', plant => {
      const limit = Number.parseFloat(wordsOf(plant.design, 'battery', 'discharge_current')!);
      const strings = Math.ceil(batteryCurrent(plant) / limit) - 1;
      return strings < 1 ? undefined : String(strings);
    }),
  },
  {
    name: 'cells that may not be discharged so fast',
    code: 'battery_current',
    on: 'battery',
    put: state('battery', 'discharge_current', plant => amperes((0.97 * batteryCurrent(plant)) / plant.hand.strings)),
  },
  {
    name: 'a short-time current for a duty that lasts longer',
    code: 'battery_current',
    on: 'battery',
    put: state('battery', 'discharge_current', plant => {
      const current = batteryCurrent(plant) / plant.hand.strings;
      return `${amperes(0.97 * current)}, pulse_discharge_current = ${amperes(3 * current)} for ${number(0.9 * plant.hand.duration)} s`;
    }),
  },
  {
    name: 'cells that may not be charged so fast',
    code: 'battery_current',
    on: 'battery',
    put: state('battery', 'charge_current', plant =>
      amperes((0.8 * batteryCurrent(plant) * plant.hand.chargePower) / plant.hand.power / plant.hand.strings),
    ),
  },
  {
    name: 'a DC side too small',
    code: 'dc_current',
    on: 'converter',
    put: state('converter', 'dc_current', ({ hand }) => amperes((0.97 * hand.power) / hand.units / hand.bottom)),
  },
  {
    name: 'a cable laid into a hot conduit full of others',
    code: 'cable_ampacity',
    on: 'networkCable',
    put: where(
      plant => networkDensity(plant) > 0.34,
      both(
        both(
          state('networkCable', 'installation', () => 'A2'),
          state('networkCable', 'ambient', () => '80 °C'),
        ),
        // 20 circuits with its own: 0.38 of at most 2.1 A/mm², of which 80 °C leaves 0.41.
        state('networkCable', 'grouping', plant => `${21 - parallelOf(plant)}`),
      ),
    ),
  },
  {
    name: 'chokes too small',
    code: 'filter_current',
    on: 'filter',
    put: state('filter', 'rated_current', ({ hand }) => amperes(0.94 * hand.lineCurrent)),
  },
];

/** A pause shorter than what came out takes to go back in at the greatest charging power. */
const noTime = state('discharging', 'discharge', plant => {
  const { power, chargePower, duration } = plant.hand;
  return running(plant, { repeat: duration * (1 + (0.9 * power) / chargePower) });
});

/** A run a day, and a warranty of less than ten years of them. */
const shortWarranty = both(
  state('discharging', 'discharge', plant => running(plant, { repeat: 86_400 })),
  state(
    'battery',
    'throughput_warranty',
    ({ hand }) => `${number((8 * 365 * hand.power * hand.duration) / hand.batteries / 3.6e9)} MWh`,
  ),
);

const energyFaults: readonly Fault[] = [
  {
    name: 'capacity of about a half',
    code: 'discharge_time',
    on: 'battery',
    put: state('battery', 'capacity', plant => {
      const [bottom, top] = plant.hand.span;
      return `${number((0.97 * spent(plant)) / plant.hand.strings / (top - bottom))} Ah`;
    }),
  },
  {
    name: 'one capacity for all rates of a lead-acid battery',
    code: 'capacity_by_rate',
    on: 'battery',
    put: where(
      // Three hours of the duty leave a battery that is sized for it no fast one.
      ({ design, hand }) => wordsOf(design, 'battery', 'chemistry') === 'lead_acid' && hand.duration <= 5400,
      state('battery', 'capacity', ({ hand }) => `${hand.capacity} Ah`),
    ),
  },
  {
    name: 'a duty far too long',
    code: 'discharge_time',
    on: 'battery',
    put: state('discharging', 'discharge', plant => {
      const { capacity, strings, span, duration } = plant.hand;
      const most = (1.35 * capacity * strings * (span[1] - span[0]) * duration) / spent(plant);
      return running(plant, { duration: most });
    }),
  },
  {
    name: 'resistance in which half the voltage drops',
    code: 'power_shortfall',
    on: 'converter',
    put: state(
      'battery',
      'resistance',
      ({ hand }) => `${number((1.05 * hand.strings * hand.batteries * hand.bottom ** 2) / (4 * hand.power))} Ω`,
    ),
  },
  {
    name: 'cells that may not sag',
    code: 'power_shortfall',
    on: 'battery',
    put: state(
      'battery',
      'voltage_limits',
      ({ hand }) => `${number(0.998 * hand.bottom)} V .. ${number(2 * hand.top)} V`,
    ),
  },
  {
    name: 'cells that are full too soon',
    code: 'power_shortfall',
    on: 'battery',
    put: state(
      'battery',
      'voltage_limits',
      ({ hand }) => `${number(0.5 * hand.bottom)} V .. ${number(1.001 * hand.top)} V`,
    ),
  },
  { name: 'no time to recharge', code: 'recharge_time', on: 'battery', put: noTime },
  {
    name: 'no time to recharge after a duty that absorbs only',
    code: 'recharge_time',
    on: 'battery',
    put: where(absorbing, noTime),
  },
  { name: 'a warranty for ten years that lasts eight', code: 'throughput', on: 'battery', put: shortWarranty },
  {
    name: 'a warranty used up by a duty that absorbs only',
    code: 'throughput',
    on: 'battery',
    put: where(absorbing, shortWarranty),
  },
];

const filterFaults: readonly Fault[] = [
  {
    name: 'a resonance among the network’s harmonics',
    code: 'resonance_band',
    on: 'filter',
    put: where(
      passive,
      capacitor(({ hand }) => hand.capacitance * (hand.resonance[1] / (9 * hand.frequency)) ** 2),
    ),
  },
  {
    name: 'a resonance near the switching frequency',
    code: 'resonance_band',
    on: 'filter',
    put: where(
      passive,
      capacitor(({ hand }) => hand.capacitance * (hand.resonance[0] / (0.55 * hand.switching)) ** 2),
    ),
  },
  {
    name: 'a capacitor too large',
    code: 'capacitor_share',
    on: 'filter',
    put: capacitor(({ hand }) => (hand.capacitance * 0.06) / hand.capacitorShare),
  },
  {
    name: 'a capacitor felt without load',
    code: 'no_load_reactive',
    on: 'converter',
    put: capacitor(({ hand }) => (hand.capacitance * 0.09) / hand.capacitorShare),
  },
  {
    name: 'a capacitor felt without load, behind a transformer that steps down',
    code: 'no_load_reactive',
    on: 'converter',
    put: where(
      ({ hand }) => hand.winding < 0.8 * hand.network,
      capacitor(({ hand }) => (hand.capacitance * 0.09) / hand.capacitorShare),
    ),
  },
  {
    name: 'a choke too small',
    code: 'ripple_current',
    on: 'filter',
    // The choke is sized for a quarter by U_dc/(6·f·L); √2·U_c, which takes its place, is six tenths of that at least.
    put: state('filter', 'converter_inductance', ({ hand }) => `${number(0.4e6 * hand.choke)} µH`),
  },
];

const harmonicFaults: readonly Fault[] = [
  {
    name: 'a converter full of low orders',
    code: 'harmonic_distortion',
    on: 'grid',
    // Even behind a reactance of a sixtieth, two fifths of the thirteenth make 8 % of voltage, where 3 % is allowed.
    put: both(
      state('grid', 'distortion_limit', () => 'en_50160'),
      state('converter', 'harmonics', () => 'curve order { 5 60 %, 11 40 %, 13 40 % }'),
    ),
  },
];

export const designFaults: readonly Fault[] = [
  {
    name: 'strings that share unequally',
    code: 'battery_current',
    on: 'battery',
    put: where(
      ({ hand }) => hand.strings > 1,
      state('battery', 'string_spread', () => '25 %'),
    ),
  },
  {
    name: 'carriers on their own in converters side by side',
    code: 'circulating_current',
    on: ['K1'],
    put: where(
      ({ design }) => design.arrangement === 'one_battery',
      state('converter', 'carriers', () => ''),
    ),
  },
  {
    name: 'batteries of unequal cells in series side by side',
    code: 'pack_mismatch',
    on: ['B2'],
    put: where(
      plant => plant.design.packs > 1 && perCell(plant),
      ({ design, hand }) => ({
        ...design,
        demands: [...design.demands, `case odd {\n  B2.cells_in_series = ${Math.ceil(1.02 * hand.cells)}\n}`],
      }),
    ),
  },
  ...voltageFaults,
  ...currentFaults,
  ...energyFaults,
  ...filterFaults,
  ...harmonicFaults,
];
