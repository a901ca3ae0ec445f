// Do the surroundings stay inside the temperatures for which the parts' data speak?
import type { KindName } from '../kinds/kind.ts';
import { type Component, type Fact, factIn, tagOf } from '../model/plant.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import type { CheckContext } from './context.ts';

const messages = {
  hot: (f: { converter: string; ambient: string }) =>
    `The surroundings reach ${f.ambient}, above the 40 °C to which converters are usually rated, and ${f.converter} states no \`ambient_derating\`: its rating there is unknown, and is taken as at 40 °C.`,
  cold: (f: { battery: string; ambient: string; first: string; property: string; judged: string }) =>
    `The surroundings go down to ${f.ambient}, but ${f.battery}’s ${f.property} is stated from ${f.first} on only, and the coldest cells that any case judges are at ${f.judged}: say how the battery is kept warm (its \`temperature\` in a case of its own), or expect neither charge nor full power in winter.`,
};

/** 40 °C, K (common practice, no source). */
const usualHeat = 313.15;

export const ambientRange = defineCheck({
  code: 'ambient_range',
  group: 'surroundings',
  title: 'Surroundings outside the data of the parts',
  why: 'A converter’s rating holds up to a stated ambient temperature, and cold lithium cells accept little or no charge: charging them below 0 °C plates metal in them.',
  remedy:
    'Heat or cool the room and state the ambient that results; state the derating; judge a winter case with the battery’s temperature.',
  source: 'common practice, no source: 40 °C for converters; the maker’s curves for the battery',
  on: 'plant',
  looksEverywhere: true,
  bad: [['ambient = 5 °C .. 40 °C', 'ambient = -20 °C .. 40 °C']],
  run: (context, site) => {
    const judging = context.plant.components.filter(({ kind }) => says[kind.name] !== undefined);
    context.judgeEach(judging, tagOf, component => says[component.kind.name]!(context, site, component));
  },
});

const says: Partial<Record<KindName, typeof sayHot>> = { converter: sayHot, battery: sayCold };

function sayHot(context: CheckContext, site: Component, converter: Component): void {
  const ambientIn = (caseIndex: number): number => context.number(site, 'ambient', 'high', caseIndex);
  const hottest = context.highestCase(ambientIn);
  const ambient = ambientIn(hottest);
  const derating = context.fact(converter, 'ambient_derating', hottest);
  if (!(ambient > usualHeat) || (derating !== undefined && derating.provenance.class !== 'tool')) return;
  context.say({
    severity: 'warning',
    component: converter,
    place: context.place(site, 'ambient', hottest),
    related: [{ place: converter.place, message: 'The converter.' }],
    limit: { name: undefined, number: usualHeat, display: '40 °C' },
    message: messages.hot({
      converter: converter.tag,
      ambient: `${show(ambient, dimensions.temperature)}${context.inCase(hottest)}`,
    }),
  });
}

function sayCold(context: CheckContext, site: Component, battery: Component): void {
  const ambientIn = (caseIndex: number): number => context.number(site, 'ambient', 'low', caseIndex);
  const frost = context.highestCase(caseIndex => -ambientIn(caseIndex));
  const ambient = ambientIn(frost);
  const coldest = Math.min(
    ...context.cases.map(plantCase => temperatureIn(factIn(plantCase, battery, 'temperature')?.value)),
  );
  for (const property of ['charge_current', 'discharge_current', 'resistance']) {
    const fact = battery.facts.get(property);
    const first = coldestStated(fact);
    if (first === undefined) continue;
    if (!(ambient < first) || coldest <= ambient || keptWarm(context, battery, first)) continue;
    context.say({
      severity: 'warning',
      component: battery,
      place: context.place(site, 'ambient', frost),
      related: context.related(0, [battery, property, 'Stated from here on.']),
      limit: { name: undefined, number: first, display: show(first, dimensions.temperature) },
      message: messages.cold({
        battery: battery.tag,
        ambient: `${show(ambient, dimensions.temperature)}${context.inCase(frost)}`,
        first: show(first, dimensions.temperature),
        property: `\`${property}\``,
        judged: show(coldest, dimensions.temperature),
      }),
    });
    return;
  }
}

/** A case that says how cold the cells get, colder than in the base case, and inside what is stated. */
function keptWarm(context: CheckContext, battery: Component, first: number): boolean {
  const usual = temperatureIn(battery.facts.get('temperature')?.value);
  const restated = context.cases.map(({ facts }) => temperatureIn(facts.get(battery.tag)?.get('temperature')?.value));
  const coldest = Math.min(...restated);
  return coldest < usual && coldest >= first;
}

/** Where the temperatures of a curve begin; undefined where it does not run over temperature. */
function coldestStated(fact: Fact | undefined): number | undefined {
  const value = fact?.value;
  if (value?.type === 'curve') return value.axes[0] === 'temperature' ? value.curve.x[0] : undefined;
  if (value?.type !== 'surface') return undefined;
  if (value.axes[0] === 'temperature') return value.surface.x[0];
  return value.axes[1] === 'temperature' ? value.surface.columns[0] : undefined;
}

function temperatureIn(value: { readonly type: string; readonly low?: number } | undefined): number {
  return value?.type === 'number' && value.low !== undefined ? value.low : Number.POSITIVE_INFINITY;
}
