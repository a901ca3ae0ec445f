// `require` and `accept`: what the author demands of the results, and which findings were agreed to.
import type { AcceptDeclaration, DateLiteral, RequireDeclaration } from '../../grammar/ast.ts';
import { detached } from '../../grammar/detached.ts';
import { codes, textCodes } from '../checks/codes.ts';
import type { Place } from '../finding.ts';
import { evaluateComparison, evaluateNumber } from './evaluate.ts';
import { type EvaluationContext, extremes } from './evaluated.ts';
import { samePlace } from './facts.ts';
import { Memory } from './kept-properties.ts';
import type { Lowerer } from './lowerer.ts';
import { reportUnknown } from './names.ts';
import { nearest } from './nearest.ts';
import type { Acceptance, Component, Requirement } from './plant.ts';
import { replaceFix } from './report.ts';
import { type Placed, placeOf } from './scope.ts';

type Sides = NonNullable<ReturnType<typeof evaluateComparison>>;

const kept = new Memory<EvaluationContext, Sides>();

/** Where it stood last, and what its sides meant. */
const keptWhole = new WeakMap<RequireDeclaration, { readonly sides: Sides; readonly requirement: Requirement }>();

export function lowerRequirement(
  placed: Placed<RequireDeclaration>,
  byTag: ReadonlyMap<string, Component>,
  lowerer: Lowerer,
): Requirement | undefined {
  const { node } = placed;
  if (node.condition === undefined || placed.doubts.length > 0) return undefined;
  const place = placeOf(placed, node);
  if (node.condition.type !== 'compare') {
    lowerer.report.add({
      code: 'wrong_value',
      place: placeOf(placed, node.condition),
      message: 'A requirement compares two values, such as `require T1.loading <= 95 %`.',
    });
    return undefined;
  }
  const { condition } = node;
  const context = lowerer.context(lowerer.root, placed, false, 'requirement');
  const sides = kept.recallOrMake(condition, context, asking => evaluateComparison(condition, asking));
  if (sides === undefined) return undefined;
  const during = node.during?.text;
  if (during !== undefined && byTag.get(during)?.kind.name !== 'duty') {
    const duties = [...byTag.values()]
      .filter(component => component.kind.name === 'duty')
      .map(component => component.tag);
    const named = byTag.get(during);
    const place = placeOf(placed, node.during!);
    if (named !== undefined) {
      const message = `${during} is a ${named.kind.name}; behind \`during\` stands a duty.`;
      lowerer.report.add({ code: 'wrong_value', place, message });
    } else reportNoTag(lowerer, during, place, `There is no duty \`${during}\``, duties);
    return undefined;
  }
  const known = keptWhole.get(node);
  if (known?.sides === sides && samePlace(known.requirement.place, place)) return known.requirement;
  const requirement = {
    name: node.name?.text,
    ...sides,
    operator: node.condition.operator,
    during,
    because: node.because?.value,
    place,
    written: detached(lowerer.text(placeOf(placed, node.condition))),
  };
  keptWhole.set(node, { sides, requirement });
  return requirement;
}

export function lowerAcceptance(
  placed: Placed<AcceptDeclaration>,
  byTag: ReadonlyMap<string, Component>,
  lowerer: Lowerer,
): Acceptance | undefined {
  const { node } = placed;
  if (node.code === undefined || node.tag === undefined) return undefined;
  const code = codes.find(candidate => candidate === node.code!.text);
  const place = placeOf(placed, node.code);
  if (code === undefined) {
    const near = nearest(node.code.text, codes);
    lowerer.report.add({
      code: 'unknown_name',
      place,
      message: `\`${node.code.text}\` is no finding's code${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
      fixes: near === undefined ? [] : [replaceFix(place, near)],
    });
    return undefined;
  }
  const hazard = lowerer.results.isHazard(code);
  if (hazard || textCodes.has(code)) {
    const why = hazard
      ? 'it is a hazard, and what could injure or burn is removed, never agreed to'
      : 'a mistake in the text is mended, not agreed to';
    lowerer.report.add({ code: 'wrong_value', place, message: `\`${code}\` can't be accepted: ${why}.` });
    return undefined;
  }
  if (!byTag.has(node.tag.text)) {
    const message = `There is no component \`${node.tag.text}\``;
    reportNoTag(lowerer, node.tag.text, placeOf(placed, node.tag), message, [...byTag.keys()]);
    return undefined;
  }
  const bound = lowerBound(placed, lowerer);
  if (bound === null) return undefined;
  if (node.because?.value.trim() === '') {
    const message = 'This reason says nothing: whoever reads the plant next year wants to know who agreed, and why.';
    lowerer.report.add({ code: 'wrong_value', place: placeOf(placed, node.because), message });
    return undefined;
  }
  return {
    code,
    tag: node.tag.text,
    bound,
    until: node.until === undefined ? undefined : isoDate(node.until),
    because: node.because?.value,
    place: placeOf(placed, node),
    doubtful: placed.doubts.length > 0,
  };
}

function reportNoTag(
  lowerer: Lowerer,
  tag: string,
  place: Place,
  message: string,
  candidates: readonly string[],
): void {
  reportUnknown(lowerer.report, { scope: lowerer.root, path: [tag], place, message, candidates, canBeUsed: false });
}

function lowerBound(placed: Placed<AcceptDeclaration>, lowerer: Lowerer): Acceptance['bound'] | null {
  const { direction, bound } = placed.node;
  if (direction === undefined || bound === undefined) return undefined;
  const value = evaluateNumber(bound, lowerer.context(lowerer.root, placed, false));
  if (value === undefined) return null;
  return { direction, value: extremes(value).nominal, dimension: value.dimension, place: placeOf(placed, bound) };
}

function isoDate({ year, month, day }: DateLiteral): string {
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

/** A name is what people call a requirement by: two of one plant can't share it. */
export function reportSameNames(placed: readonly Placed<RequireDeclaration>[], lowerer: Lowerer): void {
  const first = new Map<string, Place>();
  for (const one of placed) {
    const { name } = one.node;
    if (name === undefined) continue;
    const place = placeOf(one, name);
    const earlier = first.get(name.text);
    if (earlier === undefined) first.set(name.text, place);
    else {
      lowerer.report.add({
        code: 'duplicate',
        place,
        message: `There is a requirement \`${name.text}\` already: give this one another name.`,
        related: [{ place: earlier, message: 'The first one.' }],
      });
    }
  }
}
