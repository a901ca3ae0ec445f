// Do the stated parts of the choppers on one DC link make up its power?
import type { Component } from '../model/plant.ts';
import { statedShares } from '../results/link-share.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';
import { soundExample } from './example.ts';
import { listed } from './not-checked.ts';
import { choppersOf } from './winding.ts';

interface Facts {
  readonly shares: string;
  readonly sum: string;
  readonly inCase: string;
}

const messages = {
  alone: (f: { chopper: string; share: string; inCase: string }) =>
    `${f.chopper} is told to carry ${f.share} of the power of its DC link${f.inCase}, but no other chopper is there for the rest: 100 % pass it.`,
  unequal: (f: Facts) =>
    `The choppers on one DC link are told to carry ${f.shares} of its power${f.inCase}, together ${f.sum}: the parts of one power make 100 %, so that it can’t be said what each of them carries.`,
  nothingLeft: (f: Facts & { others: string }) =>
    `The choppers on one DC link are told to carry ${f.shares} of its power${f.inCase}, together ${f.sum}: nothing is left for ${f.others}, so that it can’t be said what each of them carries.`,
};

const line = 'connect MAIN -> T1 -> F1 -> K1 -> B1';

/** The sound example's battery in halves of half the cells and twice the strings, each behind a chopper with a share. */
function inHalves(first: string, second: string): readonly [string, string][] {
  const battery = soundExample.slice(soundExample.indexOf('battery B1 {'), soundExample.indexOf(line));
  const chopper = (tag: string, share: string): string =>
    `chopper ${tag} {\n  low_side_voltage = 250 V .. 420 V\n  high_side_voltage = 600 V .. 850 V\n  link_voltage = 750 V ± 1 %\n  current = 800 A\n  share = ${share}\n}\n\n`;
  const half = battery.replace('B1', 'B2').replace('cells_in_series = 224', 'cells_in_series = 112');
  return [
    ['cells_in_series = 224', 'cells_in_series = 112'],
    [
      line,
      `${chopper('Q1', first)}${chopper('Q2', second)}${half}bus D1 {}\n\nconnect MAIN -> T1 -> F1 -> K1 -> D1 -> Q1 -> B1\nconnect D1 -> Q2 -> B2`,
    ],
  ];
}

export const linkShareCheck = defineCheck({
  code: 'link_share',
  group: 'current',
  title: 'The parts of a DC link’s choppers do not make up its power',
  why: 'Choppers keep the voltages of their batteries apart from the DC link, so that no resistance shares the power between them: a control commands how much each carries. What these parts leave over nobody carries, and what they are too much can’t be had.',
  remedy:
    'State parts that make 100 %, or leave `share` out at all choppers or some: what the stated parts leave is divided by the energy of their batteries.',
  source: 'definition',
  on: 'chopper',
  bad: inHalves('60 %', '60 %'),
  mended: inHalves('50 %', '50 %'),
  run: (context, chopper) => {
    // Said once, at the first that states a part.
    const all = choppersOf(context, chopper);
    for (const caseIndex of context.cases.keys()) if (say(context, chopper, all, caseIndex)) return;
  },
});

function say(context: CheckContext, chopper: Component, all: readonly Component[], caseIndex: number): boolean {
  const read = context.read(chopper, caseIndex);
  const { shares, sum, possible } = statedShares(read, read.route(chopper)?.cells ?? []);
  const stating = all.filter((_, index) => !Number.isNaN(shares[index]!));
  if (possible || stating[0] !== chopper) return false;
  const { name } = context.cases[caseIndex]!;
  const shown = stating.map(each => show(context.number(each, 'share', 'nominal', caseIndex), dimensions.ratio));
  const facts: Facts = {
    shares: stating.map(({ tag }, index) => `${shown[index]!} (${tag})`).join(', '),
    sum: show(sum, dimensions.ratio),
    inCase: name === '' ? '' : ` in case ${name}`,
  };
  const others = all.filter(each => !stating.includes(each));
  context.say({
    severity: 'error',
    component: chopper,
    place: context.place(chopper, 'share', caseIndex),
    related: context.related(
      caseIndex,
      ...stating.slice(1).map(each => [each, 'share', 'The part of another chopper on this link.'] as const),
    ),
    limit: { name: undefined, number: 1, display: '100 %' },
    message:
      all.length === 1
        ? messages.alone({ chopper: chopper.tag, share: shown[0]!, inCase: facts.inCase })
        : others.length === 0
          ? messages.unequal(facts)
          : messages.nothingLeft({ ...facts, others: listed(others.map(({ tag }) => tag)) }),
  });
  return true;
}
