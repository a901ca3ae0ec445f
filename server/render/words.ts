// The words and signs of the language with what each means: in hovers, beside what completion offers, and as a page.
import { code, page } from './reference-text.ts';

interface Meaning {
  readonly means: string;
  readonly example: string;
}

const declarations: Readonly<Record<string, Meaning>> = {
  part: {
    means: 'A template: components are made of it with `is`, and may state anew what it states.',
    example: 'part converter Quiet is AirCooled.kva350 { switching_frequency = 6 kHz }',
  },
  catalogue: {
    means: 'A table of parts of one kind. Each row is a part of its own, named behind a dot.',
    example: 'catalogue converter AirCooled { kva350 { ac_current = 560 A } }',
  },
  use: {
    means: 'Brings in the parts, catalogues, practices and lets of another file, but nothing that it brings in itself.',
    example: 'use "parts/lfp-string.plant"',
  },
  let: {
    means: 'Gives a value a name, for the facts of this file and of the files that use it.',
    example: 'let peak = 400 kW',
  },
  connect: {
    means: 'What is connected to what, from the network on. The side of a transformer that comes first is its primary.',
    example: 'connect MAIN -> T1 -> F1 -> K1 -> B1',
  },
  case: {
    means:
      'States facts anew; the plant is judged in each case too. On the right stand the values that hold without any case.',
    example: 'case winter { B1.temperature = 15 °C }',
  },
  require: {
    means: 'A demand of your own, judged at every operating point; the least margin is told.',
    example: 'require T1.loading <= 95 %',
  },
  accept: {
    means: 'Turns one finding into a note, as far as its bound and until its date. Hazards can’t be accepted.',
    example: 'accept transformer_spare on T1 down to 5 % until 2027-06-30 because "item 12 of the minutes"',
  },
};

const clauses: Readonly<Record<string, Meaning>> = {
  is: {
    means: 'What this is made of. What is stated here replaces what the part or the other cases state.',
    example: 'battery B1 is LfpString { strings = 4 }',
  },
  as: {
    means: 'The name to write in front of what the file brings in.',
    example: 'use "parts/converters.plant" as range',
  },
  from: {
    means: 'Where the fact comes from: the document, and the place in it. Behind `pick` the values to choose among.',
    example: 'voltage = 400 V ± 10 % from "connection agreement, 4.2"',
  },
  assumed: {
    means: 'Nobody has stated this: it is what the author takes to be true, with the reason.',
    example: 'ambient = 5 °C .. 40 °C assumed "heated container"',
  },
  for: { means: 'How long the power lasts each time.', example: 'discharge = 400 kW for 45 min' },
  every: { means: 'The time from one beginning to the next.', example: 'charge = 250 kW for 90 s every 15 min' },
  delivering: {
    means: 'The duty’s reactive power goes to the network. Without a word both directions have to hold.',
    example: 'power_factor = 0.95 delivering',
  },
  absorbing: {
    means: 'The duty’s reactive power comes from the network. Without a word both directions have to hold.',
    example: 'power_factor = 0.95 absorbing',
  },
  during: { means: 'Under this duty only.', example: 'require K1.loading during braking <= 70 %' },
  because: {
    means: 'The reason, for whoever reads this later.',
    example: 'require T1.loading <= 95 % because "noise"',
  },
  on: { means: 'The component whose finding is accepted.', example: 'accept transformer_spare on T1 …' },
  up: {
    means: 'The value of the finding may rise to this bound.',
    example: 'accept converter_loading on K1 up to 103 % …',
  },
  down: {
    means: 'The value of the finding may fall to this bound.',
    example: 'accept transformer_spare on T1 down to 5 % …',
  },
  to: { means: 'The bound of what is accepted.', example: 'accept transformer_spare on T1 down to 5 % …' },
  until: {
    means: 'The last day on which the acceptance holds.',
    example: 'accept altitude on K1 until 2027-06-30 because "agreed"',
  },
};

const values: Readonly<Record<string, Meaning>> = {
  pick: {
    means:
      'The smallest preferred rating with which everything holds, in every case and under every duty. A choice among parts, or among values behind `from`, is read but not made yet.',
    example: 'rated_power = pick',
  },
  curve: {
    means: 'Points, the first column rising, with straight lines between them. Outside of its points nothing is read.',
    example: 'resistance = curve temperature { 0 °C 0.28 Ω, 25 °C 0.14 Ω }',
  },
  smooth: {
    means: 'Between the points a cubic that rises and falls only where they do, instead of straight lines.',
    example: 'charge_current = curve temperature smooth { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A }',
  },
  log: {
    means: 'Straight lines on two logarithmic axes, as the melting curves of fuses are drawn.',
    example: 'melting = curve current log { 200 A 1000 s, 2000 A 0.05 s }',
  },
  columns: {
    means: 'The points of the second axis, one for each column.',
    example: 'curve soc, temperature { columns 0 °C, 25 °C   10 % 0.2 Ω, 0.14 Ω }',
  },
  per: {
    means: 'What the value is of: one cell, or one string of cells.',
    example: 'voltage_limits = 2.80 V .. 3.60 V per cell',
  },
  cell: { means: 'The value is that of one cell.', example: 'voltage_limits = 2.80 V .. 3.60 V per cell' },
  string: { means: 'The value is that of one string of cells.', example: 'voltage_limits = 627 V .. 806 V per string' },
};

const functions: Readonly<Record<string, Meaning>> = {
  min: { means: 'The least of its arguments, which measure the same.', example: 'min(400 kW, 0.9 * peak)' },
  max: { means: 'The greatest of its arguments, which measure the same.', example: 'max(400 kW, 0.9 * peak)' },
  abs: { means: 'Its argument without the sign.', example: 'abs(-250 kW)' },
  sqrt: { means: 'The square root.', example: 'sqrt(3) * 230 V' },
};

const signs: Readonly<Record<string, Meaning>> = {
  '±': {
    means: 'A tolerance, as a share of the value or in its unit. Both ends are judged.',
    example: 'voltage = 400 V ± 10 %',
  },
  '..': { means: 'A span: both ends occur, and both are judged.', example: 'fault_power = 9 MVA .. 14 MVA' },
  '->': { means: 'Is connected to.', example: 'MAIN -> T1' },
};

const groups = { Declarations: declarations, Clauses: clauses, Values: values, Functions: functions, Signs: signs };
const all: ReadonlyMap<string, Meaning> = new Map(Object.values(groups).flatMap(group => Object.entries(group)));

/** Of a word or sign in its usual spelling. The kinds of components have meanings of their own. */
export function meaningOf(word: string): string | undefined {
  const found = all.get(word);
  return found && `**${word}**: ${found.means}\n\nExample: ${code(found.example)}`;
}

export function wordsPage(): string {
  const sections = Object.entries(groups).flatMap(([title, group]) => [
    `## ${title}`,
    // No table: the examples are as wide as half a window.
    Object.entries(group)
      .map(([word, { means, example }]) => `- **${code(word)}**: ${means}  \n  ${code(example)}`)
      .join('\n'),
  ]);
  return page('# Words and signs', 'What the words between names and numbers mean.', ...sections);
}
