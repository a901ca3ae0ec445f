// Outline: the declarations of a file, for the breadcrumb, the outline view and "go to symbol".
import type { OutlineEntry } from '../../engine/analysis.ts';
import type { FileContext } from './context.ts';

export function outline({ analysis, path }: FileContext): readonly OutlineEntry[] {
  return analysis.outline.filter(({ place, nameplace }) => {
    // The editor refuses a name that lies outside of what it names.
    return place.path === path && place.start <= nameplace.start && nameplace.end <= place.end;
  });
}
