// What the tool took for granted, once a component: nobody should have to guess it.
import type { Property } from '../kinds/kind.ts';
import { toleranceFallbackOf } from '../model/fact-numbers.ts';
import type { Component, Fact } from '../model/plant.ts';
import { WatchedFacts } from '../model/watched-facts.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  assumed: (f: { tag: string; list: string }) => `Not stated for ${f.tag}, so the tool assumes: ${f.list}.`,
};

export const assumedByTool = defineCheck({
  code: 'assumed_by_tool',
  group: 'facts',
  title: 'The tool assumes something',
  why: 'A default is a guess about your plant. It keeps results coming while little is known, and it has to be seen.',
  remedy:
    'State the fact; or state it as `assumed` with your reason, so that the next reader knows that somebody looked.',
  source: 'each default names its own',
  on: 'plant',
  bad: [['  altitude = 900 m\n', '']],
  run: context => {
    for (const component of context.plant.components) {
      const known = assumptionsOf(component);
      const curves = batteryCurves(context, component);
      if (known.list.length === 0 && curves.length === 0) continue;
      const { tag, place } = component;
      const message =
        curves.length === 0 ? known.message : messages.assumed({ tag, list: [...known.list, ...curves].join('; ') });
      context.say({ severity: 'note', component, place, message });
    }
  },
});

interface Assumptions {
  readonly list: readonly string[];
  readonly message: string;
}

/** Mostly nothing has changed since the text before: every component is asked for at every keystroke. */
const known = new WeakMap<object, Assumptions>();

function assumptionsOf(component: Component): Assumptions {
  const { facts } = component;
  const whole = facts instanceof WatchedFacts ? facts.whole : undefined;
  const before = whole && known.get(whole);
  if (before !== undefined) return before;
  const list = assumptions(component);
  const made = { list, message: messages.assumed({ tag: component.tag, list: list.join('; ') }) };
  if (whole !== undefined) known.set(whole, made);
  return made;
}

/** Defaults of properties that the kind expects; what is merely optional and neutral is not mentioned. */
function assumptions(component: Component): readonly string[] {
  const list: string[] = [];
  for (const property of component.kind.properties) {
    const fact = component.facts.get(property.name);
    const tolerance = assumedTolerance(component, fact);
    if (tolerance !== undefined) list.push(tolerance);
    if (property.need !== 'expected' && !mattersHere(component, property)) continue;
    if (property.replacedBy?.some(name => component.facts.has(name))) continue;
    if (fact === undefined) {
      if (property.otherwise !== undefined && !component.failed.has(property.name))
        list.push(`\`${property.name}\`: ${lower(property.otherwise)}`);
    } else if (fact.provenance.class === 'tool') {
      list.push(`\`${property.name} = ${fact.written}\` (${fact.provenance.text})`);
    }
  }
  return list;
}

function mattersHere(component: Component, { matters }: Property): boolean {
  const value = matters === undefined ? undefined : component.facts.get(matters.property)?.value;
  return value?.type === 'word' && value.word === matters?.word;
}

/** The network's voltage is asked for by a finding of its own. */
function assumedTolerance(component: Component, fact: Fact | undefined): string | undefined {
  if (fact?.value.type !== 'number' || fact.value.form !== 'assumed_tolerance') return undefined;
  if (component.kind.name === 'grid' && fact.property.name === 'voltage') return undefined;
  const { text, reason } = toleranceFallbackOf(fact.property, fact.value.nominal)!;
  return `\`${fact.property.name}\` ± ${text} (${reason})`;
}

function lower(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1).replace(/\.$/, '');
}

const none: readonly string[] = [];

const windowed = '`open_circuit_voltage`: a straight line through the window `voltage`';

/** Curves of a battery that nobody stated: where they come from, and what is known to be wrong with them. */
function batteryCurves(context: CheckContext, battery: Component): readonly string[] {
  if (battery.kind.name !== 'battery') return none;
  const list: string[] = [];
  const rest = battery.facts.get('open_circuit_voltage');
  if (rest?.provenance.class === 'tool') list.push(`\`open_circuit_voltage\` (${rest.provenance.text})`);
  if (rest === undefined && battery.facts.has('voltage') && !battery.failed.has('open_circuit_voltage'))
    list.push(`${windowed}, which is false for flat chemistries such as lfp: most of their span lies near one voltage`);
  const growth = battery.facts.get('resistance_growth');
  if (growth?.provenance.class === 'tool' && isGrown(context, battery))
    list.push(
      `\`resistance\` as stated at 25 °C, and \`resistance_growth\` over temperature (${growth.provenance.text})`,
    );
  return list;
}

/** In some case one resistance for all temperatures meets another temperature than that for which it is taken. */
function isGrown(context: CheckContext, battery: Component): boolean {
  return context.cases.some((_, caseIndex) => {
    const resistance = context.fact(battery, 'resistance', caseIndex)?.value;
    if (resistance === undefined) return false;
    const runs = resistance.type === 'curve' || resistance.type === 'surface' ? resistance.axes : [];
    return !runs.includes('temperature') && context.number(battery, 'temperature', 'nominal', caseIndex) !== warm;
  });
}

/** 25 °C, K, for which `engine/tables/chemistry.ts` has the growth as one. */
const warm = 298.15;
