// What a hover tells at the mark of a text.
import { hover } from '../../server/features/hover.ts';
import { at } from './feature.ts';

export interface Shown {
  /** The text that is explained. */
  readonly of: string;
  readonly says: string;
}

export async function shown(marked: string): Promise<Shown | undefined> {
  const { context, offset, text } = await at(marked);
  const found = hover(context, offset);
  return found && { of: text.slice(found.start, found.end), says: found.markdown };
}
