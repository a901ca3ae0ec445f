// Facts that are possible one by one, but not together.
import type { Component } from '../model/plant.ts';
import { lossInWatts } from '../results/transformer-facts.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  lossAboveImpedance: (f: { transformer: string; loss: string; ratio: string; impedance: string }) =>
    `${f.transformer}’s load loss of ${f.loss} alone is ${f.ratio} of its rating, more than its whole impedance of ${f.impedance}: one of the two is wrong.`,
  lossAboveCurrent: (f: { transformer: string; ratio: string; current: string }) =>
    `${f.transformer}’s no-load loss is ${f.ratio} of its rating, more than its whole no-load current of ${f.current}: one of the two is wrong.`,
  socBelowConnected: (f: { battery: string; lowest: string; bottom: string }) =>
    `${f.battery} is said to open its contactors at ${f.lowest}, inside the span that operation uses (down to ${f.bottom}).`,
  tooOften: (f: { duty: string; length: string; period: string; inCase: string }) =>
    `${f.duty} lasts ${f.length} and is said to come again every ${f.period}${f.inCase}, before it has ended; \`repeat\` counts from start to start.`,
  bothWays: (f: { duty: string }) =>
    `${f.duty} states \`discharge\` and \`charge\`; a duty is one of them, and only the discharge is judged.`,
};

export const impossibleValue = defineCheck({
  code: 'impossible_value',
  group: 'facts',
  title: 'Facts that contradict each other',
  why: 'Physics does not allow them together, so a number was misread, or belongs to another machine.',
  remedy: 'Look both numbers up again.',
  source: 'definition',
  on: 'plant',
  bad: [
    ['load_loss = 5.8 kW', 'load_loss = 58 kW'],
    ['require T1.loading <= 95 %\n', ''],
  ],
  run: context => {
    for (const component of context.plant.components) {
      if (component.kind.name === 'transformer') sayTransformer(context, component);
      if (component.kind.name === 'battery') sayBattery(context, component);
      if (component.kind.name === 'duty') sayDuty(context, component);
    }
  },
});

function sayTransformer(context: CheckContext, transformer: Component): void {
  const read = context.read(transformer);
  const rated = read.number(transformer, 'rated_power');
  const loss = lossInWatts(read, transformer, 'load_loss');
  const impedance = read.number(transformer, 'impedance', 'low');
  const ratio = (value: number): string => show(value, dimensions.ratio);
  if (loss / rated > impedance) {
    const message = messages.lossAboveImpedance({
      transformer: transformer.tag,
      loss: show(loss, dimensions.active_power),
      ratio: ratio(loss / rated),
      impedance: ratio(impedance),
    });
    context.say({
      severity: 'error',
      component: transformer,
      place: context.place(transformer, 'load_loss'),
      related: context.related([transformer, 'impedance', 'The impedance.']),
      message,
    });
  }
  const idle = lossInWatts(read, transformer, 'no_load_loss');
  const current = read.number(transformer, 'no_load_current');
  if (idle / rated > current) {
    const message = messages.lossAboveCurrent({
      transformer: transformer.tag,
      ratio: ratio(idle / rated),
      current: ratio(current),
    });
    context.say({
      severity: 'error',
      component: transformer,
      place: context.place(transformer, 'no_load_loss'),
      related: context.related([transformer, 'no_load_current', 'The no-load current.']),
      message,
    });
  }
}

function sayBattery(context: CheckContext, battery: Component): void {
  const lowest = battery.facts.get('lowest_connected')?.value;
  const bottom = context.number(battery, 'soc', 'low');
  if (lowest?.type !== 'number' || lowest.dimension === dimensions.voltage || !(lowest.nominal > bottom)) return;
  const message = messages.socBelowConnected({
    battery: battery.tag,
    lowest: show(lowest.nominal, dimensions.ratio),
    bottom: show(bottom, dimensions.ratio),
  });
  context.say({
    severity: 'error',
    component: battery,
    place: context.place(battery, 'lowest_connected'),
    related: context.related([battery, 'soc', 'The span.']),
    message,
  });
}

function sayDuty(context: CheckContext, duty: Component): void {
  sayTooOften(context, duty);
  if (!duty.facts.has('discharge') || !duty.facts.has('charge')) return;
  context.say({
    severity: 'error',
    component: duty,
    place: context.place(duty, 'charge'),
    related: context.related([duty, 'discharge', 'The other one.']),
    message: messages.bothWays({ duty: duty.tag }),
  });
}

/** `for` and `every` behind a power are judged where they stand; here the two facts, in each case. */
function sayTooOften(context: CheckContext, duty: Component): void {
  for (const caseIndex of context.cases.keys()) {
    const [length, period] = ['duration', 'repeat'].map(word => context.number(duty, word, 'nominal', caseIndex));
    if (!(period! < length!)) continue;
    const [shown, every] = [length!, period!].map(seconds => show(seconds, dimensions.time));
    context.say({
      severity: 'error',
      component: duty,
      place: context.place(duty, 'repeat', caseIndex),
      related: context.related([duty, 'duration', 'How long it lasts.']),
      message: messages.tooOften({
        duty: duty.tag,
        length: shown!,
        period: every!,
        inCase: context.inCase(caseIndex),
      }),
    });
    return;
  }
}
