// Mistakes of the designer about voltages: diodes, control, spans, drops and the network’s voltage.
import {
  absorbing,
  adding,
  both,
  type Fault,
  floating,
  highestDirect,
  perCell,
  percent,
  rated,
  sine,
  state,
  where,
  winding,
} from './fault.ts';
import { wordsOf } from './plant-design.ts';
import { number } from './sound-plants.ts';

export const voltageFaults: readonly Fault[] = [
  {
    name: 'winding far too high for the diodes',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: winding(({ hand }) => (1.02 * hand.floor) / (Math.SQRT2 * hand.highest)),
  },
  {
    name: 'winding too high, and nothing opens in standby',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: both(
      winding(({ hand }) => (1.02 * hand.floor) / (Math.SQRT2 * hand.highest)),
      both(
        state('converter', 'opens_on_blocking', () => 'ac'),
        state('converter', 'opens_in_standby', () => 'none'),
      ),
    ),
  },
  {
    name: 'winding a little too high for the diodes’ margin',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: winding(({ hand }) => (hand.winding * hand.floor) / hand.crest / 1.01),
  },
  {
    name: 'cells too few',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: where(
      perCell,
      state('battery', 'cells_in_series', ({ hand }) =>
        String(Math.floor((0.98 * hand.cells * Math.SQRT2 * hand.winding * hand.highest) / hand.floor)),
      ),
    ),
  },
  {
    name: 'a temporary overvoltage forgotten',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: state('grid', 'temporary_overvoltage', ({ hand }) =>
      percent((1.02 * hand.floor) / (Math.SQRT2 * hand.winding)),
    ),
  },
  {
    name: 'the wrong tap',
    code: 'uncontrolled_charging',
    on: 'converter',
    put: where(
      ({ design }) => !design.backwards && wordsOf(design, 'transformer', 'tap') === undefined,
      state('transformer', 'tap', ({ hand }) =>
        percent((Math.SQRT2 * hand.winding * hand.highest) / (1.02 * hand.floor) - 1),
      ),
    ),
  },
  {
    name: 'contactors that open nobody knows when, over a steep foot',
    code: 'connected_below_floor',
    on: 'battery',
    put: both(
      state('battery', 'lowest_connected', () => ''),
      state('battery', 'open_circuit_voltage', plant => {
        const foot = (0.8 * plant.hand.winding * Math.SQRT2) / (perCell(plant) ? plant.hand.cells : 1);
        return wordsOf(plant.design, 'battery', 'open_circuit_voltage')?.replace(
          /\{ 0 % \S+ V/,
          `{ 0 % ${number(foot)} V`,
        );
      }),
    ),
  },
  {
    name: 'winding too high to control',
    code: 'control_margin',
    on: 'converter',
    put: winding(({ hand }) => (hand.modulation * hand.bottom) / 1.06),
  },
  {
    name: 'modulation by sine alone',
    code: 'control_margin',
    on: 'converter',
    put: where(
      plant => floating(plant) && (sine * plant.hand.bottom) / plant.hand.winding < 1.08,
      state('converter', 'modulation', () => 'sine'),
    ),
  },
  {
    name: 'an earthed star point',
    code: 'control_margin',
    on: 'converter',
    put: where(
      plant => floating(plant) && (sine * plant.hand.bottom) / plant.hand.winding < 1.08,
      state('transformer', 'neutral', () => 'earthed'),
    ),
  },
  {
    name: 'winding too high under load',
    code: 'voltage_reserve',
    on: 'converter',
    put: where(
      plant => !absorbing(plant),
      winding(({ hand }) => (hand.modulation * hand.bottom) / hand.highest),
    ),
  },
  {
    name: 'DC span that begins too high',
    code: 'dc_window',
    on: 'converter',
    put: state(
      'converter',
      'dc_voltage',
      ({ hand }) => `${number(1.01 * hand.bottom)} V .. ${number(1.06 * hand.top)} V`,
    ),
  },
  {
    name: 'DC span that ends too low',
    code: 'dc_window',
    on: 'converter',
    put: state(
      'converter',
      'dc_voltage',
      ({ hand }) => `${number(0.5 * hand.bottom)} V .. ${number(0.99 * hand.top)} V`,
    ),
  },
  {
    name: 'a trip just above the charging battery',
    code: 'dc_trip_margin',
    on: 'converter',
    put: both(
      state(
        'converter',
        'dc_voltage',
        plant => `${number(0.5 * plant.hand.bottom)} V .. ${number(1.01 * highestDirect(plant))} V`,
      ),
      state('converter', 'dc_trip', plant => `${number(1.015 * highestDirect(plant))} V`),
    ),
  },
  {
    name: 'a converter for a lower AC voltage',
    code: 'ac_voltage_range',
    on: 'converter',
    put: state(
      'converter',
      'ac_voltage',
      ({ hand }) => `${number(0.5 * hand.winding)} V .. ${number(0.98 * hand.winding * hand.highest)} V`,
    ),
  },
  {
    name: 'a converter for a higher AC voltage',
    code: 'ac_voltage_range',
    on: 'converter',
    put: state(
      'converter',
      'ac_voltage',
      ({ hand }) => `${number(1.02 * hand.winding * hand.lowest)} V .. ${number(2 * hand.winding)} V`,
    ),
  },
  {
    name: 'a network cable too thin',
    code: 'cable_drop',
    on: 'networkCable',
    put: both(
      state('networkCable', 'parallel', () => ''),
      both(
        state('networkCable', 'cross_section', () => '95 mm²'),
        state('networkCable', 'length', ({ hand }) => {
          const line = Math.hypot(hand.power, hand.reactive) / (Math.sqrt(3) * hand.network * hand.lowest);
          // Copper of 95 mm² has 0.18 mΩ/m when cool; a third of it is lost to the reactance when absorbing.
          return `${number((0.05 * hand.network) / (Math.sqrt(3) * line * 0.13e-3))} m`;
        }),
      ),
    ),
  },
  {
    name: 'a battery cable too thin',
    code: 'cable_drop',
    on: 'batteryCable',
    put: both(
      state('batteryCable', 'parallel', () => ''),
      both(
        state('batteryCable', 'cross_section', () => '70 mm²'),
        state('batteryCable', 'length', ({ hand, design }) => {
          // Copper of 70 mm² has 0.25 mΩ/m when cool.
          return `${number((0.03 * hand.top) / ((2 * hand.power * 0.25e-3) / hand.units / design.packs / hand.top))} m`;
        }),
      ),
    ),
  },
  {
    name: 'a weak network',
    code: 'voltage_change',
    on: 'grid',
    put: state('grid', 'fault_power', ({ hand, design }) => {
      const steep = Math.hypot(1, Number(wordsOf(design, 'grid', 'x_over_r')));
      const megavolts = hand.chargePower / steep / 0.035 / 1e6;
      return `${number(megavolts)} MVA .. ${number(2 * megavolts)} MVA`;
    }),
  },
  {
    name: 'a stricter network owner',
    code: 'voltage_change',
    on: 'grid',
    put: state('grid', 'voltage_change_limit', () => '0.01 %'),
  },
  {
    name: 'a primary for another network',
    code: 'winding_mismatch',
    on: 'transformer',
    put: plant =>
      state(
        'transformer',
        plant.design.backwards ? 'secondary_voltage' : 'primary_voltage',
        ({ hand }) => `${number(1.08 * hand.network)} V`,
      )(plant),
  },
  {
    name: 'a transformer the wrong way round',
    code: 'winding_mismatch',
    on: 'transformer',
    put: where(
      plant => rated(plant) && plant.hand.winding < 0.8 * plant.hand.network,
      ({ design }) => ({ ...design, backwards: !design.backwards }),
    ),
  },
  {
    name: 'a bus from another drawing',
    code: 'bus_voltage',
    on: ['N1'],
    put: where(
      ({ design }) => design.units > 1,
      adding(({ hand }) => `case redrawn { N1.voltage = ${number(3 * hand.network)} V }`),
    ),
  },
  {
    name: 'a coarse transducer in a control of voltage',
    code: 'measuring_point',
    on: 'converter',
    // Reactances of choke, winding and network are a third of the rating's base at most: a tenth makes three tenths.
    put: both(
      state('converter', 'control', () => 'voltage'),
      state('converter', 'voltage_error', () => '10 %'),
    ),
  },
  {
    name: 'a control made for a firm network',
    code: 'short_circuit_ratio',
    on: 'converter',
    put: state('converter', 'least_short_circuit_ratio', () => '100'),
  },
  {
    name: 'a limit that the switching on of the transformer breaks',
    code: 'voltage_change',
    on: 'grid',
    // Behind at most fifty ratings in the network, ten times the rated current takes a tenth and more.
    put: where(
      plant => rated(plant) && !plant.design.backwards,
      both(
        state('transformer', 'inrush', () => '12'),
        state('grid', 'voltage_change_limit', () => '2.5 %'),
      ),
    ),
  },
  {
    name: 'a load step far beyond the converters of the island',
    code: 'load_step',
    on: 'converter',
    put: both(
      state('discharging', 'mode', () => 'forming'),
      state('discharging', 'load_step', ({ hand }) => `${number((8 * hand.power) / 1000)} kW`),
    ),
  },
  {
    name: 'a motor as large as the plant, switched straight on',
    code: 'motor_start',
    on: 'converter',
    put: both(
      state('discharging', 'mode', () => 'forming'),
      state('discharging', 'motor_start', ({ hand }) => `${number((2 * hand.power) / 1000)} kW`),
    ),
  },
  {
    name: 'a dead network whose transformer is switched on at full voltage',
    code: 'black_start',
    on: 'converter',
    put: where(
      rated,
      both(
        state('discharging', 'mode', () => 'forming'),
        both(
          state('discharging', 'black_start', () => 'yes'),
          state('transformer', 'inrush', () => '12'),
        ),
      ),
    ),
  },
  {
    name: 'power to be held in a dip that leaves a tenth of the voltage',
    code: 'ride_through',
    on: 'converter',
    put: both(
      state('grid', 'low_voltage_ride_through', () => 'curve time { 0 s 10 %, 150 ms 10 %, 1 s 90 % }'),
      state('grid', 'power_in_dip', () => 'held'),
    ),
  },
];
