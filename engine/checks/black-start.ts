// Can the converter that forms an island start it from a dead network: charge the filters, magnetise the transformers?
import type { Fix } from '../finding.ts';
import type { Component, Plant } from '../model/plant.ts';
import { blackStartCurrent, blackStartPeak, blackStartRush, shortTimePeak } from '../results/black-start.ts';
import { ratedCurrent } from '../results/converter-current.ts';
import type { Result } from '../results/definition.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext, Spot } from './context.ts';
import { formingWith, formingWithout, shortTimeRating } from './island-judgement.ts';
import { listed } from './not-checked.ts';

const messages = {
  rush: (f: { converter: string; transformer: string; peak: string; limit: string; inrush: string; where: string }) =>
    `Starting a dead network, ${f.converter} switches ${f.transformer} on at full voltage, and its rush peaks at ${f.peak} at the worst instant, more than the ${f.limit} that ${f.converter} can carry${f.where}; ${f.inrush}.`,
  idle: (f: { converter: string; current: string; limit: string; where: string }) =>
    `Starting a dead network, ${f.converter} needs ${f.current} for filter and magnetising alone, before any load, more than the ${f.limit} that it can carry${f.where}.`,
};

const dead = ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming, black_start = yes }'] as const;

export const blackStartCheck = defineCheck({
  code: 'black_start',
  group: 'current',
  title: 'A start from a dead network that the converter can’t make',
  why: 'With the network dead the converter has to magnetise the transformer itself. Switched on at full voltage, a transformer draws many times its rated current for some periods; a converter cuts that off or trips, and the station stays dark when it is needed most. What the filter draws without load has to be carried as well.',
  remedy:
    'Have the converter build its voltage up slowly with the transformer connected (`magnetised_from = converter_side`), which the maker has to confirm, take a transformer with a smaller inrush or a converter with more current, or a device that limits the rush. Before anybody starts a dead network it has to be cut off from the public one, locked, and clear of people: what is fed back into it kills.',
  source:
    'maker’s statement of the converter: overload, duty class or rating; that a rush lasts 1 s is common practice, no source',
  on: 'converter',
  bad: [dead],
  mended: [dead, ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  magnetised_from = converter_side']],
  notChecked: leftOpen,
  run: (context, converter) => {
    const rush = pastLimit(context, converter, blackStartPeak, shortTimePeak);
    if (rush !== undefined) sayRush(context, converter, rush);
    const idle = pastLimit(context, converter, blackStartCurrent, ratedCurrent);
    if (idle !== undefined) sayIdle(context, converter, idle);
  },
});

function leftOpen(plant: Plant): string | undefined {
  const silent = formingWithout(plant, 'black_start');
  const starting = formingWith(plant, 'black_start', 'yes');
  const words: string[] = [];
  if (silent.length > 0)
    words.push(`the start of ${listed(silent)} from a dead network, for which \`black_start\` says neither yes nor no`);
  if (starting.length > 0)
    words.push(
      `what else the start of ${listed(starting)} from a dead network needs: a supply of controls, contactors and cooling until the voltage stands, transformers beyond the connection point, and loads that come back one by one, but for the largest (\`load_step\`, \`motor_start\`)`,
    );
  return words.length === 0 ? undefined : words.join('; ');
}

function pastLimit(context: CheckContext, converter: Component, result: Result, limit: Result): Spot | undefined {
  return context.pastLimit(converter, result, caseIndex => limitIn(context, converter, limit, caseIndex));
}

const limitIn = (context: CheckContext, converter: Component, limit: Result, caseIndex: number): number =>
  context.graph.value(converter, limit, caseIndex, undefined, { direction: 0, voltage: 0, soc: 0 });

function judgedBy(context: CheckContext, converter: Component, limit: Result, caseIndex: number) {
  const number = limitIn(context, converter, limit, caseIndex);
  return { name: `${converter.tag}.${limit.name}`, number, display: show(number, dimensions.current) };
}

function sayRush(context: CheckContext, converter: Component, spot: Spot): void {
  const { caseIndex } = spot;
  const duty = spot.duty!;
  const tag = context.steps(converter, blackStartRush, caseIndex, duty)[0]?.transformer;
  const transformer = context.component(tag)!;
  const isStated = context.fact(transformer, 'inrush', caseIndex)?.provenance.class !== 'tool';
  const multiple = show(context.number(transformer, 'inrush', 'nominal', caseIndex), dimensions.count);
  const limit = judgedBy(context, converter, shortTimePeak, caseIndex);
  context.say({
    severity: isStated ? 'error' : 'warning',
    component: converter,
    place: context.place(duty, 'black_start', caseIndex),
    related: [
      ...context.related(
        caseIndex,
        [transformer, 'inrush', 'Its inrush.'],
        [transformer, 'magnetised_from', 'The side from which it is magnetised.'],
      ),
      ...shortTimeRating(context, converter, caseIndex),
    ],
    spot,
    limit,
    message: messages.rush({
      converter: converter.tag,
      transformer: transformer.tag,
      peak: context.show(spot),
      limit: limit.display,
      inrush: isStated
        ? `its maker states an inrush of ${multiple} times`
        : `its inrush is not stated, and ${multiple} times is common practice`,
      where: context.where(spot),
    }),
    fixes: buildUp(context, transformer),
  });
}

/** A choice, since the converter must be able to do it. Where a case says otherwise, nobody but its author knows why. */
function buildUp(context: CheckContext, transformer: Component): readonly Fix[] {
  if (context.cases.some(each => each.facts.get(transformer.tag)?.has('magnetised_from') === true)) return [];
  const place = context.valuePlace(transformer, 'magnetised_from');
  const stated = context.fact(transformer, 'magnetised_from')?.provenance.class !== 'tool';
  const insertAt = stated ? place : transformer.insertAt;
  if (insertAt === undefined) return [];
  const text = stated ? 'converter_side' : '\n  magnetised_from = converter_side';
  const title = `Have the converter build its voltage up with ${transformer.tag} connected`;
  return [{ title, safe: false, edits: [{ place: insertAt, text }] }];
}

function sayIdle(context: CheckContext, converter: Component, spot: Spot): void {
  const limit = judgedBy(context, converter, ratedCurrent, spot.caseIndex);
  context.say({
    severity: 'error',
    component: converter,
    place: context.place(spot.duty!, 'black_start', spot.caseIndex),
    related: context.related(spot.caseIndex, [converter, 'ac_current', 'The rating of the converter.']),
    spot,
    limit,
    message: messages.idle({
      converter: converter.tag,
      current: context.show(spot),
      limit: limit.display,
      where: context.where(spot),
    }),
  });
}
