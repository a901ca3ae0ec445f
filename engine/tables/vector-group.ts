// Connection symbols of three-phase transformers: what the letters and the clock number say, and which go together.

import type { Citation } from './evidence.ts';

export const vectorGroupSource: Citation = { source: 'IEC 60076-1, connection symbol', evidence: 'from memory' };

export type Connection = 'star' | 'delta' | 'zigzag';

export interface WindingConnection {
  readonly connection: Connection;
  /** Whether its star point is brought out. */
  readonly neutral: boolean;
}

export type VectorGroup =
  | {
      readonly ok: true;
      readonly higher: WindingConnection;
      readonly lower: WindingConnection;
      /** Hours by which the lower voltage lags, 30° each: 0 … 11. */
      readonly clock: number;
    }
  | { readonly ok: false; readonly problem: 'notation' }
  /** A clock number that these connections can't give. */
  | { readonly ok: false; readonly problem: 'clock'; readonly clock: number; readonly wants: 'even' | 'odd' };

const symbol = /^(Y|YN|D|Z|ZN)(y|yn|d|z|zn)(\d{1,2})$/;

/**
 * Reads a symbol such as `Dyn11`: capitals for the higher voltage, N or n for a star point that is brought out, and the
 * clock number. Star against star, and delta or zigzag against each other, shift by whole 60°; all others by odd 30°.
 */
export function readVectorGroup(text: string): VectorGroup {
  const [, high = '', low = '', hours = ''] = symbol.exec(text.trim()) ?? [];
  const clock = Number(hours);
  if (hours === '' || clock > 11) return { ok: false, problem: 'notation' };
  const higher = windingOf(high);
  const lower = windingOf(low);
  const wants = (higher.connection === 'star') === (lower.connection === 'star') ? 'even' : 'odd';
  if ((clock % 2 === 0) !== (wants === 'even')) return { ok: false, problem: 'clock', clock, wants };
  return { ok: true, higher, lower, clock };
}

function windingOf(letters: string): WindingConnection {
  const [letter = ''] = letters.toLowerCase();
  const connection = letter === 'd' ? 'delta' : letter === 'z' ? 'zigzag' : 'star';
  return { connection, neutral: letters.length > 1 };
}
