// Does the stated modulation work with the star point as it is earthed?
import { voltageFactor } from '../physics/modulation.ts';
import { earthedBy } from '../results/star-point.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';

const messages = {
  earthed: (f: { converter: string; modulation: string; by: string; sine: string; wanted: string }) =>
    `${f.converter} states \`modulation = ${f.modulation}\`, but ${f.by}: its third harmonic would drive a current through earth. It is judged by the sine limit: its AC voltage reaches ${f.sine} of the DC voltage, not ${f.wanted}.`,
};

export const modulationLimit = defineCheck({
  code: 'modulation_limit',
  group: 'voltage',
  title: 'A modulation that needs a floating star point',
  why: 'Space-vector and third-harmonic modulation gain 15 % of voltage by moving the star point of the converter. Where the star point on its side is earthed or loaded, that common-mode voltage drives a zero-sequence current, so that only the sine limit can be used.',
  remedy: 'State `modulation = sine`; or let the winding on the converter side float.',
  source: 'Mohan, Undeland, Robbins, Power Electronics, ch. 8 (from memory)',
  on: 'converter',
  bad: [
    ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  neutral = earthed'],
    ['secondary_voltage = 360 V', 'secondary_voltage = 300 V'],
    ['ac_current = 850 A', 'ac_current = 1100 A\n  modulation = space_vector'],
    ['capacitance = 300 µF', 'capacitance = 400 µF'],
  ],
  run: (context, converter) => {
    const seen = new Set<string>();
    for (const [caseIndex] of context.cases.entries()) {
      const fact = context.fact(converter, 'modulation', caseIndex);
      const word = fact?.value.type === 'word' ? fact.value.word : undefined;
      const by = earthedBy(context.read(converter, caseIndex));
      if (fact?.provenance.class === 'tool' || word === undefined || word === 'sine' || by === undefined) continue;
      if (seen.has(word)) continue;
      seen.add(word);
      const valuePlace = context.valuePlace(converter, 'modulation');
      const { component, property } = by;
      context.say({
        severity: 'warning',
        component: converter,
        place: context.place(converter, 'modulation', caseIndex),
        related: context.related(caseIndex, [component, property, 'It is earthed here.']),
        message: messages.earthed({
          converter: converter.tag,
          modulation: word,
          by:
            property === 'neutral'
              ? `the star point of ${component.tag} on its side is earthed or loaded`
              : `no transformer stands between it and ${component.tag}, whose star point is earthed`,
          sine: ratio(voltageFactor.sine),
          wanted: ratio(voltageFactor.space_vector),
        }),
        fixes:
          valuePlace === undefined
            ? []
            : [{ title: 'State `modulation = sine`', safe: false, edits: [{ place: valuePlace, text: 'sine' }] }],
      });
    }
  },
});

const ratio = (value: number): string => show(value, dimensions.ratio, { digits: 3 });
