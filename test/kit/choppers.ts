// The sound example with half the cells, twice the strings, and a chopper that holds the DC link above them.
import { soundExample } from '../../engine/checks/example.ts';
import { type Analysed, analysed, type Edit, edited } from './plants.ts';

export const chopperText = `chopper Q1 {
  low_side_voltage = 250 V .. 420 V
  high_side_voltage = 600 V .. 850 V
  link_voltage = 750 V ± 1 %
  current = 1500 A
  efficiency = 98 %
}`;

/** Invented. */
export const chopperExample = edited(
  soundExample,
  ['cells_in_series = 224', 'cells_in_series = 112'],
  ['strings = 4', 'strings = 8'],
  ['connect MAIN -> T1 -> F1 -> K1 -> B1', `${chopperText}\n\nconnect MAIN -> T1 -> F1 -> K1 -> Q1 -> B1`],
);

export function withChopper(...edits: readonly Edit[]): Analysed {
  return analysed(edited(chopperExample, ...edits));
}

const chain = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const half = soundExample
  .slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf('connect MAIN'))
  .replace('cells_in_series = 224', 'cells_in_series = 112');
const halfChopper = chopperText.replace('1500 A', '750 A');

/** Two halves of that plant's battery, each behind a chopper of half the size: they hold the DC link together. */
export const twoChoppers = edited(
  soundExample,
  ['cells_in_series = 224', 'cells_in_series = 112'],
  [
    chain,
    `${halfChopper}\n\n${halfChopper.replace('Q1', 'Q2')}\n\n${half.replace('B1', 'B2')}bus D1 {}\n\nconnect MAIN -> T1 -> F1 -> K1 -> D1 -> Q1 -> B1\nconnect D1 -> Q2 -> B2`,
  ],
);

export function withTwoChoppers(...edits: readonly Edit[]): Analysed {
  return analysed(edited(twoChoppers, ...edits));
}

/** Edits of one declaration, so that of two equal ones the second can be changed. */
export function within(declared: string, from: string, to: string, ...further: readonly Edit[]): Edit {
  const start = twoChoppers.indexOf(`${declared} {`);
  const end = twoChoppers.indexOf('\n}', start);
  const block = twoChoppers.slice(start, end);
  return [block, edited(block, [from, to], ...further)];
}
