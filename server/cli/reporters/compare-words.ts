// The words in which a comparison is told, shared by its text and its Markdown.
import type { FactChange, MovedValue, Trend } from '../../../engine/compare/comparison.ts';
import type { Finding } from '../../../engine/finding.ts';
import { showNumber } from '../../../engine/units/show.ts';
import { describePoint } from '../../findings.ts';

export const unknown = 'not known';

/** `+4.2 %`; for what is shown in per cent the difference itself, in points; empty where a side is not known. */
export function changeInWords({ before, after, change }: MovedValue): string {
  if (before?.value === undefined || after?.value === undefined) return '';
  const difference = after.value - before.value;
  if (after.display.endsWith(' %') && Number.isFinite(difference)) return `${signed(difference * 100)} points`;
  return change === undefined ? '' : `${signed(change * 100)} %`;
}

function signed(number: number): string {
  return `${number < 0 ? '' : '+'}${showNumber(number, 3)}`;
}

export function trendInWords({ trend, limit }: MovedValue): string {
  if (trend === 'none') return '';
  return `${trend === 'towards' ? 'towards' : 'away from'} its limit${limit === undefined ? '' : ` ${limit}`}`;
}

/** What matters most first: nearer to a limit, farther from it, then what nothing judges. */
export function byTrend(values: readonly MovedValue[]): readonly MovedValue[] {
  const order: Readonly<Record<Trend, number>> = { towards: 0, away: 1, none: 2 };
  return [...values].sort((a, b) => order[a.trend] - order[b.trend]);
}

/** Where its worst point is now, and where it was if that is somewhere else. */
export function pointInWords({ before, after }: MovedValue): string {
  const now = after === undefined ? '' : describePoint(after.point);
  const was = before === undefined ? '' : describePoint(before.point);
  if (after === undefined) return was;
  return before === undefined || was === now ? now : `${now || 'everywhere'} (before: ${was || 'everywhere'})`;
}

/** `T1.impedance: 6 % → 4 %`, or who says it now. */
export function factInWords({ name, case: of, before, after, what }: FactChange): string {
  const where = of === undefined ? name : `${name} in case ${of}`;
  if (what === 'provenance') return `${where} is ${after?.provenance} (before: ${before?.provenance})`;
  const by = after !== undefined && before?.provenance !== after.provenance ? `, ${after.provenance}` : '';
  if (before === undefined) return `${where}: ${after?.display}, ${after?.provenance}, was not there`;
  if (after === undefined) return `${where}: no longer stated, was ${before.display}`;
  return `${where}: ${before.display} → ${after.display}${by}`;
}

export function findingLabel({ severity, code, hazard, accepted }: Finding): string {
  const label = accepted === undefined ? code : `${accepted.code}, accepted`;
  return `${hazard ? 'hazard, ' : ''}${severity}[${label}]`;
}
