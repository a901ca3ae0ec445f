// What a mistake in a sound plant is, and the words in which mistakes are put: each sized by hand so that it surely shows.
import type { Code } from '../../engine/checks/codes.ts';
import { type Design, type Section, stating, tagsOf, wordsOf } from './plant-design.ts';
import { number, type SoundPlant } from './sound-plants.ts';

export interface Fault {
  readonly name: string;
  readonly code: Code;
  /** Each of these components must carry the finding; undefined where mistakes in the text belong to none. */
  readonly on: Section | readonly string[] | undefined;
  /** The plants that it is put into; the sound plants where nothing is said. */
  readonly plants?: readonly SoundPlant[];
  /** Undefined where the mistake makes no sense for the plant. */
  readonly put: (plant: SoundPlant) => Design | undefined;
}

type Put = Fault['put'];

/** States one fact anew, or leaves it out for ''. */
export const state =
  (section: Section, property: string, words: (plant: SoundPlant) => string | undefined): Put =>
  plant => {
    const written = plant.design.sections[section] === undefined ? undefined : words(plant);
    return written === undefined ? undefined : stating(plant.design, section, property, written);
  };

/** Only in plants of which this holds. */
export const where =
  (holds: (plant: SoundPlant) => boolean, put: Put): Put =>
  plant =>
    holds(plant) ? put(plant) : undefined;

/** One mistake after another. */
export const both =
  (first: Put, second: Put): Put =>
  plant => {
    const design = first(plant);
    return design && second({ ...plant, design });
  };

export const adding =
  (text: string | ((plant: SoundPlant) => string)): Put =>
  plant => ({
    ...plant.design,
    demands: [...plant.design.demands, typeof text === 'string' ? text : text(plant)],
  });

export const rule = (property: string, words: (plant: SoundPlant) => string): Put => {
  return plant => stating(plant.design, 'rules', property, words(plant));
};

/** The winding at the converters at another no-load voltage, its tap counted. */
export const winding =
  (volts: (plant: SoundPlant) => number): Put =>
  plant => {
    const property = plant.design.backwards ? 'primary_voltage' : 'secondary_voltage';
    const stated = Number.parseFloat(wordsOf(plant.design, 'transformer', property) ?? 'NaN');
    return Number.isNaN(stated)
      ? undefined
      : stating(plant.design, 'transformer', property, `${number((stated * volts(plant)) / plant.hand.winding)} V`);
  };

export const percent = (ratio: number): string => `${number(100 * ratio)} %`;
export const amperes = (value: number): string => `${number(value)} A`;

export const perCell = ({ design }: SoundPlant): boolean =>
  wordsOf(design, 'battery', 'open_circuit_voltage')?.includes('per cell') === true;
export const absorbing = ({ design }: SoundPlant): boolean =>
  wordsOf(design, 'discharging', 'power_factor')?.endsWith('absorbing') === true;
export const judgesCold = ({ design }: SoundPlant): boolean =>
  Object.values(design.cases).some(words => 'temperature' in words);
export const rated = ({ design }: SoundPlant): boolean =>
  wordsOf(design, 'transformer', 'rated_power') !== undefined &&
  wordsOf(design, 'transformer', 'rated_power') !== 'pick';
export const passive = ({ design }: SoundPlant): boolean => wordsOf(design, 'filter', 'damping') === undefined;
export const floating = ({ hand }: SoundPlant): boolean => hand.modulation > 0.7;

export const sine = Math.sqrt(3) / (2 * Math.SQRT2);

/** Least current of a whole battery at the bottom of its span: no loss on the way, no sag. */
export const batteryCurrent = ({ hand }: SoundPlant): number => hand.power / hand.batteries / hand.bottom;

/** What one run takes out at least, in A·h of one battery. */
export const spent = ({ hand }: SoundPlant): number => (hand.power * hand.duration) / 3600 / hand.batteries / hand.top;

export const capacitor = (farad: (plant: SoundPlant) => number): Put =>
  state('filter', 'capacitance', plant => {
    const delta = wordsOf(plant.design, 'filter', 'connection') === 'delta';
    return `${number((1e6 * farad(plant)) / (delta ? 3 : 1))} µF`;
  });

/** How often the resistance counts in the worst case of the plant. */
export const wear = ({ design }: SoundPlant): number =>
  'worn_winter' in design.cases ? 2.05 : 'worn' in design.cases ? 1.5 : 1;

/** Highest direct voltage in operation: charging at the top of the span, a twentieth of the power lost on the way. */
export function highestDirect(plant: SoundPlant): number {
  const { chargePower, batteries, top, resistance, strings } = plant.hand;
  return top + ((0.95 * chargePower) / batteries / top) * (resistance / strings) * wear(plant);
}

export const running = (
  { hand }: SoundPlant,
  { duration = hand.duration, repeat }: { duration?: number; repeat?: number } = {},
) =>
  `${number(hand.power / 1000)} kW for ${number(duration)} s${repeat === undefined ? '' : ` every ${number(repeat)} s`}`;

/** Tags that must carry the fault's finding. */
export function expectedTags({ on }: Fault, design: Design): readonly string[] {
  return on === undefined ? [] : typeof on === 'string' ? tagsOf(design, on) : on;
}
