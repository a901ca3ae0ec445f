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
