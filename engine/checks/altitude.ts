// Thin air: what the altitude takes from the converter, and who says so.
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  custom: (f: { converter: string; altitude: string; factor: string }) =>
    `At ${f.altitude} ${f.converter} is taken at ${f.factor} of its rated current, by common practice (1 % per 100 m above 1000 m): ask its maker for the derating, and state it as \`altitude_derating\`.`,
  insulation: (f: { converter: string; altitude: string }) =>
    `At ${f.altitude}, above 2000 m, thin air also weakens clearances and switching devices: ask ${f.converter}’s maker which DC and AC voltages it may still carry there. The current is derated here, the voltages are not checked.`,
};

/** IEC 62477-1 and IEC 61439-1 take equipment as built for up to 2000 m (from memory). */
const insulationLimit = 2000;
/** Common practice, no source. */
const deratingFrom = 1000;

export const altitude = defineCheck({
  code: 'altitude',
  group: 'surroundings',
  title: 'Thin air',
  why: 'Air cools less with altitude, and above 2000 m it also insulates less than standard clearances assume.',
  remedy: 'State the maker’s `altitude_derating`; above 2000 m ask for a confirmation of the voltages.',
  source: 'common practice, no source, for the derating; 2000 m: IEC 62477-1 and IEC 61439-1 (from memory)',
  on: 'converter',
  bad: [
    ['altitude = 900 m', 'altitude = 2300 m'],
    ['ac_current = 850 A', 'ac_current = 1000 A'],
  ],
  run: (context, converter) => {
    const { site } = context.plant;
    const heightIn = (caseIndex: number): number => context.number(site, 'altitude', 'nominal', caseIndex);
    const highest = context.highestCase(heightIn);
    const height = heightIn(highest);
    const stated = context.fact(converter, 'altitude_derating', highest);
    const common = {
      component: converter,
      place: context.place(site, 'altitude', highest),
      related: [{ place: converter.place, message: 'The converter.' }],
    };
    const shown = `${show(height, dimensions.length)}${context.inCase(highest)}`;
    if (height > insulationLimit) {
      context.say({
        ...common,
        severity: 'warning',
        limit: { name: undefined, number: insulationLimit, display: show(insulationLimit, dimensions.length) },
        message: messages.insulation({ converter: converter.tag, altitude: shown }),
      });
      return;
    }
    if (!(height > deratingFrom) || stated?.provenance.class !== 'tool') return;
    const factor = context.read(converter, highest).at(converter, 'altitude_derating', height);
    context.say({
      ...common,
      severity: 'note',
      message: messages.custom({ converter: converter.tag, altitude: shown, factor: show(factor, dimensions.ratio) }),
    });
  },
});
