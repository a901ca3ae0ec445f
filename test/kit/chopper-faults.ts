// Mistakes of the designer about a chopper: its spans, the link it holds, its current.
import { chopperPlants, linkVoltage, lowSideCurrent, ownChopperPlants } from './chopper-plants.ts';
import { amperes, type Fault, state } from './fault.ts';
import { number, type SoundPlant } from './sound-plants.ts';

const volts = (of: (plant: SoundPlant) => number) => (plant: SoundPlant) => `${number(of(plant))} V ± 1 %`;

export const chopperFaults: readonly Fault[] = [
  {
    name: 'a link held below the battery',
    code: 'chopper_window',
    on: 'chopper',
    plants: chopperPlants,
    put: state(
      'chopper',
      'link_voltage',
      volts(({ hand }) => 0.49 * hand.top),
    ),
  },
  {
    name: 'a full battery above the low side',
    code: 'chopper_window',
    on: 'chopper',
    plants: chopperPlants,
    put: state(
      'chopper',
      'low_side_voltage',
      ({ hand }) => `${number(0.3 * hand.bottom)} V .. ${number(0.49 * hand.top)} V`,
    ),
  },
  {
    name: 'an empty battery below the low side',
    code: 'chopper_window',
    on: 'chopper',
    plants: chopperPlants,
    put: state(
      'chopper',
      'low_side_voltage',
      ({ hand }) => `${number(0.51 * hand.bottom)} V .. ${number(0.65 * hand.top)} V`,
    ),
  },
  {
    name: 'a link held above the high side',
    code: 'chopper_window',
    on: 'chopper',
    plants: chopperPlants,
    put: state(
      'chopper',
      'high_side_voltage',
      plant => `${number(0.8 * plant.hand.top)} V .. ${number(0.99 * linkVoltage(plant))} V`,
    ),
  },
  {
    name: 'a chopper turned round',
    code: 'chopper_window',
    on: 'chopper',
    plants: chopperPlants,
    put: state('chopper', 'battery_side', () => 'high'),
  },
  {
    name: 'a chopper for the current of the link',
    code: 'chopper_current',
    on: 'chopper',
    plants: chopperPlants,
    put: state('chopper', 'current', plant => amperes(0.95 * lowSideCurrent(plant))),
  },
  {
    name: 'choppers on one link for the current of the link',
    code: 'chopper_current',
    on: 'chopper',
    plants: ownChopperPlants,
    put: state('chopper', 'current', plant => amperes(0.95 * lowSideCurrent(plant))),
  },
  {
    name: 'a full battery above the low side of its own chopper',
    code: 'chopper_window',
    on: 'chopper',
    plants: ownChopperPlants,
    put: state(
      'chopper',
      'low_side_voltage',
      ({ hand }) => `${number(0.3 * hand.bottom)} V .. ${number(0.49 * hand.top)} V`,
    ),
  },
  {
    name: 'each of several choppers told to carry four fifths',
    code: 'link_share',
    on: ['Q1'],
    plants: ownChopperPlants,
    put: state('chopper', 'share', () => '80 %'),
  },
  {
    name: 'a link that several choppers hold too low for the diodes',
    code: 'uncontrolled_charging',
    on: 'converter',
    plants: ownChopperPlants,
    put: state(
      'chopper',
      'link_voltage',
      volts(({ hand }) => 0.97 * hand.winding * Math.SQRT2 * hand.highest),
    ),
  },
  {
    name: 'a link held too low for the diodes',
    code: 'uncontrolled_charging',
    on: 'converter',
    plants: chopperPlants,
    put: state(
      'chopper',
      'link_voltage',
      volts(({ hand }) => 0.97 * hand.winding * Math.SQRT2 * hand.highest),
    ),
  },
  {
    name: 'a link held too low to control with',
    code: 'control_margin',
    on: 'converter',
    plants: chopperPlants,
    put: state(
      'chopper',
      'link_voltage',
      volts(({ hand }) => (0.97 * hand.winding * hand.highest) / hand.modulation),
    ),
  },
  {
    name: 'a link held above the converter’s span',
    code: 'dc_window',
    on: 'converter',
    plants: chopperPlants,
    put: state(
      'chopper',
      'link_voltage',
      volts(({ hand }) => 1.6 * hand.top),
    ),
  },
];
