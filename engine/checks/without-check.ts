// Documentation of the codes that no single check raises: they come from reading the text, from its connections, or
// from acceptances.
import type { Documentation } from './documentation.ts';

const demands = `duty start_peak { discharge = 400 kW for 45 min, power_factor = 0.95 }
duty braking { charge = 250 kW for 90 s every 15 min }

require T1.loading <= 95 %
`;

const firstLine = 'plant MountainStation {';
const connection = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const requirement = 'require T1.loading <= 95 %\n';
const houseRule = 'transformer_spare = 5 %';

const aboutPlant: readonly Documentation[] = [
  {
    code: 'unconnected',
    title: 'A component or the whole plant is not connected',
    why: 'What stands in no line from the network to the battery has no current, no voltage and no loss: it looks as if it had been considered, and nothing is computed with it.',
    remedy: 'Name it in a `connect` chain from the grid to the battery, or remove it.',
    source: 'rule of the language: results follow the connections',
    bad: [[connection, `cable W2 { length = 12 m, cross_section = 240 mm², conductor = copper }\n${connection}`]],
    mended: [
      [
        connection,
        'cable W2 { length = 12 m, cross_section = 240 mm², conductor = copper }\nconnect MAIN -> T1 -> F1 -> K1 -> W2 -> B1',
      ],
    ],
  },
  {
    code: 'accepted',
    title: 'A finding that was agreed to',
    why: 'Somebody knew of the deviation and took it on, for a reason and for a while. It stays in sight, because the reason may pass before the date does.',
    remedy: 'Nothing, until the date or the bound of the acceptance is reached.',
    source: 'the plant’s own `accept`',
    bad: [
      [houseRule, 'transformer_spare = 15 %'],
      [
        requirement,
        `${requirement}\naccept transformer_spare on T1 until 2099-12-31 because "agreed with the owner"\n`,
      ],
    ],
  },
  {
    code: 'acceptance_expired',
    title: 'An acceptance has run out',
    why: 'An agreement with a date was meant to be looked at again on that date. Since then the deviation that it covered counts in full.',
    remedy: 'Agree on it again with a new date, or mend what it accepted.',
    source: 'the plant’s own `accept`',
    bad: [
      [
        requirement,
        `${requirement}\naccept transformer_spare on T1 until 2020-06-30 because "until the second transformer stands"\n`,
      ],
    ],
  },
  {
    code: 'acceptance_unused',
    title: 'An acceptance meets no finding',
    why: 'What it agreed to is no longer there. Left standing, it would silence the same finding when it comes back for another reason.',
    remedy: 'Remove the line.',
    source: 'the plant’s own `accept`',
    bad: [
      [
        requirement,
        `${requirement}\naccept transformer_spare on T1 until 2099-12-31 because "the spare rule came after the order"\n`,
      ],
    ],
  },
  {
    code: 'not_checked',
    title: 'Something that this version does not look at',
    why: 'A plant without findings is not a plant without faults: what was not looked at can’t be found wrong.',
    remedy: 'State what the message asks for, or check it by other means.',
    source: 'the limits of this version',
    bad: [[demands, '']],
  },
];

const aboutNames: readonly Documentation[] = [
  {
    code: 'syntax',
    title: 'The text can’t be read here',
    why: 'A line that can’t be read is left out, with whatever would follow from it; all other lines keep their results.',
    remedy: 'Write what the message asks for.',
    source: 'grammar of the language',
    bad: [['no_load_loss = 800 W', 'no_load_loss 800 W']],
  },
  {
    code: 'unknown_name',
    title: 'A name that means nothing here',
    why: 'A misspelt name leads to nothing: what it should bring in is missing from the results.',
    remedy: 'Correct its spelling, declare it, or bring it in with `use`.',
    source: 'rule of the language',
    bad: [['follows = HouseRules', 'follows = HouseRule']],
  },
  {
    code: 'unknown_property',
    title: 'A kind has no property of this name',
    why: 'A fact under a name that nobody reads has no effect, and the fact that was meant is missing or assumed.',
    remedy: 'Correct its spelling; the page of the kind lists what there is.',
    source: 'rule of the language',
    bad: [['no_load_loss = 800 W', 'noload_loss = 800 W']],
  },
  {
    code: 'duplicate',
    title: 'The same thing is said twice',
    why: 'Only one of the two can count. The first does, which may not be the one that was written last and meant.',
    remedy: 'Keep one of the two.',
    source: 'rule of the language',
    bad: [['altitude = 900 m', 'altitude = 900 m\n  altitude = 1400 m']],
  },
  {
    code: 'cycle',
    title: 'Something depends on itself',
    why: 'Values that are defined by each other are defined by nothing, so none of them is known.',
    remedy: 'State one of the values in the circle outright.',
    source: 'rule of the language',
    bad: [[firstLine, `let peak = 1.6 * mean\nlet mean = peak / 1.6\n\n${firstLine}`]],
    mended: [[firstLine, `let peak = 1.6 * mean\nlet mean = 250 kW\n\n${firstLine}`]],
  },
  {
    code: 'missing_file',
    title: 'A used file is not there',
    why: 'Its parts, practices and values are missing, and whatever is made of them stays unknown.',
    remedy: 'Correct the path, or add the file.',
    source: 'rule of the language',
    bad: [[firstLine, `use "parts/pumps.plant"\n\n${firstLine}`]],
  },
  {
    code: 'outside_workspace',
    title: 'A path leads out of the workspace',
    why: 'Whoever opens the plant elsewhere lacks that file, and a text from a stranger must not read the rest of a disk.',
    remedy: 'Keep what a plant uses inside of its workspace.',
    source: 'rule of the language: no way out of the workspace',
    bad: [[firstLine, `use "../../elsewhere/pumps.plant"\n\n${firstLine}`]],
  },
];

const aboutValues: readonly Documentation[] = [
  {
    code: 'unknown_unit',
    title: 'A unit that nobody knows',
    why: 'A number without a unit that can be read has no size, so the fact counts as missing.',
    remedy: 'Write one of the units of the reference.',
    source: 'table of units of the language',
    bad: [['no_load_loss = 800 W', 'no_load_loss = 800 Wt']],
  },
  {
    code: 'wrong_dimension',
    title: 'A value of the wrong dimension',
    why: 'Volts where watts belong are a mix-up of two facts. Nothing is converted between kinds that only share their size, such as active and reactive power.',
    remedy: 'Write it in a unit of the dimension that the message names.',
    source: 'rule of the language: every property knows its dimension',
    bad: [['no_load_loss = 800 W', 'no_load_loss = 800 V']],
  },
  {
    code: 'wrong_value',
    title: 'A value that does not belong here',
    why: 'What stands here is none of the values that the place can take, so the fact counts as missing.',
    remedy: 'Write what the message asks for.',
    source: 'rule of the language',
    bad: [['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = sideways']],
    mended: [['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = floating']],
  },
  {
    code: 'reversed_range',
    title: 'A range begins above its end',
    why: 'One of the ends was mistyped or they were swapped; which of the two can’t be known, so the fact counts as missing.',
    remedy: 'Write the smaller end first.',
    source: 'rule of the language',
    bad: [['dc_voltage = 550 V .. 850 V', 'dc_voltage = 850 V .. 550 V']],
  },
  {
    code: 'decimal_comma',
    title: 'A comma inside of a number',
    why: 'A comma stands between entries of a list; read as a decimal sign by one and as a separator by another, it changes a value a hundredfold.',
    remedy: 'Decimals follow a point: `0.4`.',
    source: 'grammar of the language',
    bad: [['impedance = 6 % ± 10 %', 'impedance = 6,2 % ± 10 %']],
    mended: [['impedance = 6 % ± 10 %', 'impedance = 6.2 % ± 10 %']],
  },
  {
    code: 'not_evaluated',
    title: 'Something that is read but not evaluated yet',
    why: 'The text is right and its units are checked, but no result depends on it in this version.',
    remedy: 'Leave it for later versions, and don’t count on it in this one.',
    source: 'the limits of this version',
    bad: [[firstLine, `use "@cableway/parts/pumps.plant"\n\n${firstLine}`]],
  },
];

export const toldWithoutCheck: readonly Documentation[] = [...aboutPlant, ...aboutNames, ...aboutValues];
