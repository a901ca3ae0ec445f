// What an analysis complains of, as short lines: `code at "marked text"`, for tests that expect a complete list.
import { soundExample } from '../../engine/checks/example.ts';
import type { Finding } from '../../engine/finding.ts';
import { type Analysed, analysed, complaints, type Edit, edited, textAt } from './plants.ts';

/** Errors and warnings of a text of one or several files, in the order in which they are shown. */
export function mistakesIn(source: string, today?: string): readonly string[] {
  const plant = analysed(source, today);
  return complaints(plant).map(finding => mistakeLine(plant, finding));
}

/** Errors and warnings of the sound plant with these edits: whatever is listed here, they brought in. */
export function mistakesOf(...edits: readonly Edit[]): readonly string[] {
  return mistakesIn(edited(soundExample, ...edits));
}

/** The sound plant with lines added at its end. */
export function mistakesWith(lines: string): readonly string[] {
  return mistakesIn(`${soundExample}\n${lines}\n`);
}

/** How the complaints of the sound plant with these edits are worded. */
export function messagesOf(...edits: readonly Edit[]): readonly string[] {
  return complaints(analysed(edited(soundExample, ...edits))).map(finding => finding.message);
}

/** Notes of a code, as short lines; the first file is the plant. */
export function notesIn(plant: Analysed, code: string): readonly string[] {
  return plant.analysis.findings
    .filter(finding => finding.severity === 'note' && finding.code === code)
    .map(finding => mistakeLine(plant, finding));
}

/** `wrong_dimension at "35 mm"`, in front of it the file where it is not the first. */
export function mistakeLine(plant: Analysed, finding: Finding): string {
  const [first] = plant.files.keys();
  const file = finding.place.path === first ? '' : `${finding.place.path}: `;
  const severity = finding.severity === 'warning' ? 'warning ' : '';
  return `${file}${severity}${finding.code} at "${textAt(plant, finding.place)}"`;
}
