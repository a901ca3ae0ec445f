// Sound plants of every arrangement again, with half the cells and a chopper that holds the DC link above them.
//
// A string of half the cells has half the voltage and half the resistance; twice as many of them store and carry the
// same. The link stands where the battery of the plant without chopper stood when full. Efficiency 98 %.
import { type Design, stating, wordsOf } from './plant-design.ts';
import { number, type SoundPlant, soundPlants } from './sound-plants.ts';

/** Volts at which the link is held, before its tolerance of one per cent. */
export const linkVoltage = ({ hand }: SoundPlant): number => hand.top;

/** Least current of one chopper's low side, A: at the bottom of the span, no loss on the way. */
export const lowSideCurrent = ({ hand, design }: SoundPlant): number =>
  hand.power / hand.units / (design.ownChoppers ? hand.batteries : 1) / (hand.bottom / 2);

const halvable = ({ hand }: SoundPlant): boolean => hand.cells % 2 === 0;

const halfOf = (words: string, unit: string): string =>
  words.replace(new RegExp(`([\\d.]+) ${unit}`, 'g'), (_, value: string) => `${number(Number(value) / 2)} ${unit}`);

export const chopperPlants: readonly SoundPlant[] = (['line', 'units', 'one_battery', 'branches'] as const).flatMap(
  arrangement =>
    soundPlants
      .filter(plant => plant.design.arrangement === arrangement && halvable(plant))
      .slice(0, 2)
      .map(behindChopper),
);

/** Batteries side by side, each behind a chopper of its own on a common link: as they are, and single ones in two. */
export const ownChopperPlants: readonly SoundPlant[] = [
  ...soundPlants.filter(({ design }) => design.packs > 1),
  ...soundPlants.filter(({ design }) => design.arrangement === 'line' && design.packs === 1).slice(0, 6),
]
  .filter(halvable)
  .map(plant => {
    const inTwo = plant.design.packs === 1;
    const { design, hand } = behindChopper(plant);
    const strings = inTwo ? hand.strings / 2 : hand.strings;
    const own: Design = {
      ...stating(design, 'chopper', 'current', `${Math.ceil(2.2 * hand.stringCurrent * strings)} A`),
      name: `Choppers${plant.seed}`,
      packs: inTwo ? 2 : design.packs,
      ownChoppers: true,
    };
    const halves = stating(own, 'battery', 'strings', String(2 * strings));
    return { ...plant, hand: { ...hand, batteries: own.packs, strings }, design: halves };
  });

function behindChopper(plant: SoundPlant): SoundPlant {
  const { hand, design } = plant;
  const sections: Design['sections'] = {
    ...design.sections,
    chopper: {
      low_side_voltage: `${number(0.3 * hand.bottom)} V .. ${number(0.65 * hand.top)} V`,
      high_side_voltage: `${number(0.8 * hand.top)} V .. ${number(1.05 * hand.top)} V`,
      link_voltage: `${number(linkVoltage(plant))} V ± 1 %`,
      // As for the strings: losses of 7 % on the way and sag of the loaded battery, a reserve of a tenth.
      current: `${Math.ceil((2.2 * hand.stringCurrent * hand.strings * hand.batteries) / hand.units)} A`,
      efficiency: '98 %',
    },
  };
  const halved = [
    ['cells_in_series', () => String(hand.cells / 2)],
    ['strings', () => String(2 * hand.strings)],
    ['resistance', (words: string) => halfOf(words, 'Ω')],
    ['open_circuit_voltage', (words: string) => (words.includes('per cell') ? words : halfOf(words, 'V'))],
    ['lowest_connected', (words: string) => halfOf(words, 'V')],
  ] as const;
  let changed: Design = { ...design, name: `Chopper${plant.seed}`, sections };
  for (const [property, words] of halved)
    changed = stating(changed, 'battery', property, words(wordsOf(changed, 'battery', property) ?? ''));
  // Twice the current at half the voltage, for the same drop.
  const parallel = wordsOf(changed, 'batteryCable', 'parallel');
  if (parallel !== undefined) changed = stating(changed, 'batteryCable', 'parallel', String(4 * Number(parallel)));
  return { ...plant, design: changed };
}
