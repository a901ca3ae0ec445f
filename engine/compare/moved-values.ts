// Which results moved: by more than rounding, at their worst point, and towards which end.
import type { Analysis, FactRow, ValueRow } from '../analysis.ts';
import type { PointView } from '../finding.ts';
import type { MovedValue, Trend, ValueSide } from './comparison.ts';

/** Smaller relative differences come from the order of additions, not from the plant. */
const noise = 1e-6;

export interface MovedValues {
  readonly values: readonly MovedValue[];
  readonly elsewhere: number;
  readonly still: number;
}

/** `nameBefore` gives the name that a result had before a renaming. */
export function movedValues(
  before: Analysis,
  after: Analysis,
  nameBefore: (name: string) => string,
  nameAfter: (name: string) => string,
): MovedValues {
  const values: MovedValue[] = [];
  let elsewhere = 0;
  let still = 0;
  const limits = limitsOf(before, after, nameAfter);
  const oldNames = new Set(before.values.names);
  const newNames = new Set(after.values.names);
  for (const name of after.values.names) {
    const now = after.values.worst(name);
    const was = oldNames.has(nameBefore(name)) ? before.values.worst(nameBefore(name)) : undefined;
    if (now === undefined) continue;
    if (was !== undefined && isSame(was, now)) {
      if (movedElsewhere(before, nameBefore(name), after, name)) elsewhere++;
      else still++;
      continue;
    }
    // A result that is not known on either side tells nothing.
    if (was === undefined && now.value === undefined) continue;
    const judged = after.judged.has(name) || before.judged.has(nameBefore(name));
    values.push(moved(name, was, now, judged, limits.get(name)));
  }
  for (const name of before.values.names) {
    if (newNames.has(nameAfter(name))) continue;
    const was = before.values.worst(name);
    if (was?.value !== undefined) values.push(moved(name, was, undefined, false, undefined));
  }
  return { values, elsewhere, still };
}

function moved(
  name: string,
  before: ValueRow | undefined,
  after: ValueRow | undefined,
  judged: boolean,
  limit: string | undefined,
): MovedValue {
  const row = after ?? before;
  return {
    name,
    meaning: row?.meaning ?? '',
    unit: row?.unit ?? '',
    before: before && sideOf(before),
    after: after && sideOf(after),
    change: changeOf(before?.value, after?.value),
    trend: judged ? trendOf(before, after) : 'none',
    limit: judged ? limit : undefined,
  };
}

function sideOf({ value, display, point }: ValueRow): ValueSide {
  return { value, display, point };
}

function isSame(a: ValueRow, b: ValueRow): boolean {
  if (a.value === undefined || b.value === undefined) return a.value === b.value;
  if (a.display === b.display) return true;
  return Math.abs(a.value - b.value) <= noise * Math.max(Math.abs(a.value), Math.abs(b.value));
}

function movedElsewhere(before: Analysis, nameBefore: string, after: Analysis, name: string): boolean {
  const [old, now] = [before.values.all(nameBefore), after.values.all(name)];
  // Nearly always the points are the same and stand in the same order.
  if (old.length === now.length && old.every((row, index) => samePoint(row.point, now[index]!.point)))
    return old.some((row, index) => !isSame(row, now[index]!));
  const byPoint = new Map(old.map(row => [keyOf(row.point), row]));
  return now.some(row => {
    const was = byPoint.get(keyOf(row.point));
    return was !== undefined && !isSame(was, row);
  });
}

function samePoint(a: PointView, b: PointView): boolean {
  if (a.case !== b.case || a.duty !== b.duty || a.voltage !== b.voltage || a.direction !== b.direction) return false;
  return a.soc === b.soc || keyOf(a) === keyOf(b);
}

function keyOf({ case: of, duty, voltage, soc, direction }: PointView): string {
  return JSON.stringify([of, duty, voltage, soc === undefined ? undefined : Number(soc.toPrecision(9)), direction]);
}

function changeOf(before: number | undefined, after: number | undefined): number | undefined {
  if (before === undefined || after === undefined || before === 0) return undefined;
  const change = (after - before) / Math.abs(before);
  return Number.isFinite(change) ? change : undefined;
}

function trendOf(before: ValueRow | undefined, after: ValueRow | undefined): Trend {
  if (before?.value === undefined || after?.value === undefined) return 'none';
  return after.value > before.value === (after.worst === 'highest') ? 'towards' : 'away';
}

/**
 * What results are judged against, by their new name: the limit of a finding, else what the author requires, else the
 * house rule of the same name (`transformer_loading` for the `loading` of a transformer), all after the change if known.
 */
function limitsOf(before: Analysis, after: Analysis, nameAfter: (name: string) => string): ReadonlyMap<string, string> {
  const limits = new Map<string, string>();
  for (const [analysis, rename] of [
    [before, nameAfter],
    [after, (name: string) => name],
  ] as const) {
    const facts = analysis.facts();
    const kinds = new Map(facts.map(row => [row.subject, row.kind]));
    const rules = new Map(facts.filter(isHouseRule).map(row => [row.property, row.display]));
    for (const name of analysis.values.names) {
      const dot = name.lastIndexOf('.');
      const result = name.slice(dot + 1);
      const rule = rules.get(`${kinds.get(name.slice(0, dot))}_${result}`) ?? rules.get(result);
      if (rule !== undefined) limits.set(rename(name), rule);
    }
    for (const { judges, written } of analysis.requirements) {
      const [, left = '', limit] = /^(\S+)\s*[<>≤≥]=?\s*(.+)$/u.exec(written) ?? [];
      if (limit !== undefined && judges.includes(left)) limits.set(rename(left), limit);
    }
    for (const { value, limit } of analysis.findings) {
      if (value?.name !== undefined && limit !== undefined) limits.set(rename(value.name), limit.display);
    }
  }
  return limits;
}

function isHouseRule(row: FactRow): boolean {
  return row.kind === 'practice' && row.case === undefined;
}
