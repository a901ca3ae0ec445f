// Outlines of regions that are known in closed form: discs, half planes, and what they leave together.
import { describe, expect, test } from 'vitest';
import { type Nearest, outlineOf } from '../../../engine/physics/region.ts';
import { solved } from '../../kit/solved.ts';

type Rule = (x: number, y: number) => number;
const disc =
  (radius: number, cx = 0, cy = 0): Rule =>
  (x, y) =>
    1 - Math.hypot(x - cx, y - cy) / radius;
const below =
  (height: number): Rule =>
  (_, y) =>
    height - y;

const of =
  (rules: Readonly<Record<string, Rule>>) =>
  (x: number, y: number): Nearest<string> =>
    Object.entries(rules)
      .map(([limit, rule]) => ({ limit, margin: rule(x, y) }))
      .reduce((a, b) => (b.margin < a.margin ? b : a));

describe('a disc', () => {
  test('alone is a ring of points at its radius, counterclockwise', () => {
    const { points } = solved(outlineOf(of({ disc: disc(3) }), 5));
    expect(points).toHaveLength(48);
    for (const [index, { x, y }] of points.entries()) {
      expect(Math.hypot(x, y)).toBeCloseTo(3, 9);
      expect(
        Math.atan2(y, x) - Math.atan2(Math.sin((index * Math.PI) / 24), Math.cos((index * Math.PI) / 24)),
      ).toBeCloseTo(0, 9);
    }
  });

  test('beside the origin is still found all round', () => {
    const { points } = solved(outlineOf(of({ disc: disc(3, 1, -0.5) }), 5));
    for (const { x, y } of points) expect(Math.hypot(x - 1, y + 0.5)).toBeCloseTo(3, 9);
    // Seen from the origin: its first point lies on the x axis.
    expect(points[0]!.y).toBe(0);
    expect(points[0]!.x).toBeCloseTo(1 + Math.sqrt(9 - 0.25), 9);
  });
});

describe('a disc under a line', () => {
  const rules = of({ disc: disc(2), line: below(0.9) });
  const { points } = solved(outlineOf(rules, 4));

  test('has its two corners, each at the beginning of the stretch that another limit binds', () => {
    // The line y = 0.9 cuts the circle of radius 2 at x = ±√(4 − 0.81), between two rays.
    const changes = points.filter(({ limit }, index) => limit !== points.at(index - 1)!.limit);
    expect(changes.map(({ limit }) => limit)).toEqual(['line', 'disc']);
    expect(changes[0]!.x).toBeCloseTo(Math.sqrt(3.19), 5);
    expect(changes[0]!.y).toBeCloseTo(0.9, 5);
    expect(changes[1]!.x).toBeCloseTo(-Math.sqrt(3.19), 5);
  });

  test('names for each point the limit that holds it there', () => {
    for (const { x, y, limit } of points) {
      if (limit === 'line') expect(y).toBeCloseTo(0.9, 5);
      else expect(Math.hypot(x, y)).toBeCloseTo(2, 5);
      expect(rules(x, y).margin).toBeGreaterThan(-1e-6);
    }
  });
});

test('several limits may take over from one another between two rays, each with its corner', () => {
  // Two flanks that meet the top within 7.5°, seen from below: the top is 0.02 wide at a height of 1.
  const flank =
    (side: number): Rule =>
    (x, y) =>
      1 - y - 0.05 * (side * x - 0.01);
  const rules = of({ disc: disc(9), top: below(1), right: flank(1), left: flank(-1) });
  const { points } = solved(outlineOf(rules, 9, 47));
  const corner = (limit: string) =>
    points.find((point, index) => point.limit === limit && points.at(index - 1)!.limit !== limit)!;
  expect([corner('top').x, corner('left').x].map(x => Number(x.toFixed(5)))).toEqual([0.01, -0.01]);
  expect(corner('top').y).toBeCloseTo(1, 6);
});

test('what no limit closes ends at twice the reach, with the limit that is nearest there', () => {
  const { points } = solved(outlineOf(of({ line: below(1), wall: x => 1 - x }), 4));
  const at = (degrees: number) =>
    points.find(({ x, y }) => Math.abs(Math.atan2(y, x) - (degrees * Math.PI) / 180) < 1e-9)!;
  expect(Math.hypot(at(-165).x, at(-165).y)).toBeCloseTo(8, 9);
  expect(at(-165).limit).toBe('line');
  expect(at(-105).limit).toBe('wall');
  expect(at(0).x).toBeCloseTo(1, 9);
});

test('a region that leaves out the origin is seen from the y axis', () => {
  // Two lines: -2 … -1.
  const band = of({ disc: disc(3), upper: below(-1), lower: (_, y) => y + 2 });
  const { points } = solved(outlineOf(band, 4));
  expect(Math.max(...points.map(({ y }) => y))).toBeCloseTo(-1, 5);
  expect(Math.min(...points.map(({ y }) => y))).toBeCloseTo(-2, 5);
});

test('where nothing is left, the limit that leaves least is told', () => {
  expect(outlineOf(of({ disc: disc(3), never: () => -0.5 }), 4)).toEqual({ ok: false, limit: 'never' });
});
