// Picks that are still open, for those who want everything settled before they order.
import type { Analysis } from '../analysis.ts';
import type { Finding } from '../finding.ts';

/** One error for each `pick` that stands for a value; where none holds, that is a finding already. */
export function openPicks({ picks }: Analysis): readonly Finding[] {
  return picks.flatMap(({ subject, property, place, text }) => {
    if (text === undefined) return [];
    return {
      code: 'missing_fact',
      severity: 'error',
      hazard: false,
      message: `\`${property}\` of ${subject} is still left to the tool, which takes ${text} today: write it, so that a later change of the plant can't change what is bought.`,
      subject,
      place,
      related: [],
      value: undefined,
      limit: undefined,
      point: undefined,
      source: undefined,
      fixes: [{ title: `Write ${text}`, safe: true, edits: [{ place, text }] }],
    };
  });
}
