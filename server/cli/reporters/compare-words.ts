// The words in which a comparison is told, shared by its text and its Markdown.
import type { PointView } from '../../../engine/finding.ts';
import { showNumber } from '../../../engine/units/show.ts';
import { describePoint } from '../../findings.ts';
import type { CompareOutput } from '../schemas.ts';

export type FileOutput = CompareOutput['changed'][number];
export type ValueOutput = FileOutput['values'][number];
export type FactOutput = FileOutput['facts'][number];
export type FindingOutput = FileOutput['findings']['new'][number];
export type LoneOutput = CompareOutput['added'][number];

export const unknown = 'not known';

/** Plants with new hazards first, then those with new errors, then the others; as they come within each. */
export function byGravity(changed: readonly FileOutput[]): readonly FileOutput[] {
  const gravity = ({ findings }: FileOutput): number =>
    Math.max(0, ...findings.new.map(({ hazard, severity }) => (hazard ? 2 : severity === 'error' ? 1 : 0)));
  return changed.toSorted((a, b) => gravity(b) - gravity(a));
}

/** What was compared, a commit's whole name cut to what tells it apart. */
export function sideInWords(side: string): string {
  return /^[0-9a-f]{40,64}$/.test(side) ? side.slice(0, 12) : side;
}

/** `+4.2 %`; for what is shown in per cent the difference itself, in points; empty where a side is not known. */
export function changeInWords({ before, after, change }: ValueOutput): string {
  if (before === null || after === null || before.value === null || after.value === null) return '';
  const difference = after.value - before.value;
  if (after.display.endsWith(' %') && Number.isFinite(difference)) return `${signed(difference * 100)} points`;
  return change === null ? '' : `${signed(change * 100)} %`;
}

function signed(number: number): string {
  return `${number < 0 ? '' : '+'}${showNumber(number, 3)}`;
}

export function trendInWords({ trend, limit }: ValueOutput): string {
  if (trend === 'none') return '';
  return `${trend === 'towards' ? 'towards' : 'away from'} its limit${limit === null ? '' : ` ${limit}`}`;
}

/** What matters most first: nearer to a limit, farther from it, then what nothing judges. */
export function byTrend(values: readonly ValueOutput[]): readonly ValueOutput[] {
  const order: Readonly<Record<ValueOutput['trend'], number>> = { towards: 0, away: 1, none: 2 };
  return [...values].sort((a, b) => order[a.trend] - order[b.trend]);
}

/** Where its worst point is now, and where it was if that is somewhere else. */
export function pointInWords({ before, after }: ValueOutput): string {
  const now = after === null ? '' : describePoint(pointOf(after.point));
  const was = before === null ? '' : describePoint(pointOf(before.point));
  if (after === null) return was;
  return before === null || was === now ? now : `${now || 'everywhere'} (before: ${was || 'everywhere'})`;
}

function pointOf({ case: of, duty, voltage, soc, direction }: NonNullable<ValueOutput['before']>['point']): PointView {
  return {
    case: of ?? undefined,
    duty: duty ?? undefined,
    voltage: voltage ?? undefined,
    soc: soc ?? undefined,
    direction: direction ?? undefined,
  };
}

/** `T1.impedance: 6 % → 4 %`, or who says it now. */
export function factInWords({ name, case: of, before, after, what }: FactOutput): string {
  const where = of === null ? name : `${name} in case ${of}`;
  if (what === 'provenance') return `${where} is ${after?.provenance} (before: ${before?.provenance})`;
  const by = after !== null && before?.provenance !== after.provenance ? `, ${after.provenance}` : '';
  if (before === null) return `${where}: ${after?.display}, ${after?.provenance}, was not there`;
  if (after === null) return `${where}: no longer stated, was ${before.display}`;
  if (before.display === after.display)
    return `${where}: ${after.display} as before, made of something that changed${by}`;
  return `${where}: ${before.display} → ${after.display}${by}`;
}

export function findingLabel({ severity, code, hazard, accepted }: FindingOutput): string {
  return `${hazard ? 'hazard, ' : ''}${severity}[${code}]${accepted ? ', accepted' : ''}`;
}
