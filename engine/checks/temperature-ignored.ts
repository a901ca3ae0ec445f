// A temperature is stated, but nothing that depends on it is.
import { defineCheck } from './check.ts';

const messages = {
  ignored: (f: { battery: string; property: string }) =>
    `${f.battery}’s temperature is stated, but its \`${f.property}\` is one value for all temperatures: the cold, where resistance doubles and charging may be forbidden, is not judged.`,
};

export const temperatureIgnored = defineCheck({
  code: 'temperature_ignored',
  group: 'facts',
  title: 'A temperature without effect',
  why: 'Cells in the cold have two to four times the resistance and accept little charge. A temperature that changes nothing looks as if that had been considered.',
  remedy:
    'State `resistance`, and the permitted currents, as a curve over temperature; or the `chemistry`, whose customary growth is then taken, visibly.',
  source: 'definition',
  on: 'battery',
  bad: [
    ['resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }', 'resistance = 0.16 Ω'],
  ],
  run: (context, battery) => {
    for (const [caseIndex] of context.cases.entries()) {
      const temperature = context.fact(battery, 'temperature', caseIndex);
      const resistance = context.fact(battery, 'resistance', caseIndex);
      if (temperature === undefined || temperature.provenance.class === 'tool' || resistance === undefined) continue;
      const { value } = resistance;
      if ((value.type === 'curve' || value.type === 'surface') && value.axes.includes('temperature')) continue;
      if (context.fact(battery, 'resistance_growth', caseIndex) !== undefined) continue;
      context.say({
        severity: 'note',
        component: battery,
        place: context.place(battery, 'temperature', caseIndex),
        related:
          resistance.whole === undefined
            ? []
            : [{ place: resistance.whole, message: 'One value for all temperatures.' }],
        message: messages.ignored({ battery: battery.tag, property: 'resistance' }),
      });
      return;
    }
  },
});
