// Does the battery stay clear of the converter's DC trip?
import { dcVoltageMax } from '../results/converter-voltage.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { dcSourceName } from './winding.ts';

const messages = {
  close: (f: {
    source: string;
    converter: string;
    voltage: string;
    trip: string;
    margin: string;
    wanted: string;
    where: string;
  }) =>
    `${f.source} takes ${f.converter}’s DC side to ${f.voltage}, ${f.margin} below its trip at ${f.trip}, less than the ${f.wanted} wanted${f.where}: a small swing trips it.`,
};

export const dcTripMargin = defineCheck({
  code: 'dc_trip_margin',
  group: 'voltage',
  title: 'Close to the DC trip',
  why: 'When power reverses or is cut off, the DC voltage swings before the control catches it. A converter that stands just below its trip goes out with the first swing.',
  remedy: 'Lower the top of the state-of-charge span, take fewer cells in series, or charge more gently near the top.',
  source: 'practice `dc_trip_margin`: 3 %, common practice, no source',
  on: 'converter',
  bad: [['dc_voltage = 550 V .. 850 V', 'dc_voltage = 550 V .. 770 V\n  dc_trip = 770 V']],
  givesWayTo: ['dc_window'],
  run: (context, converter) => {
    const tripIn = (caseIndex: number): number => context.number(converter, 'dc_trip', 'nominal', caseIndex);
    const limitIn = (caseIndex: number): number =>
      tripIn(caseIndex) * (1 - context.practice('dc_trip_margin', caseIndex).number);
    const spot = context.pastLimit(converter, dcVoltageMax, limitIn);
    if (spot === undefined) return;
    const trip = tripIn(spot.caseIndex);
    const wanted = context.practice('dc_trip_margin', spot.caseIndex);
    const margin = 1 - spot.value / trip;
    // Above the trip it is a matter of dc_window.
    if (margin < 0) return;
    context.say({
      severity: 'warning',
      component: converter,
      place: context.place(converter, 'dc_trip', spot.caseIndex),
      spot,
      limit: {
        name: undefined,
        number: trip * (1 - wanted.number),
        display: show(trip * (1 - wanted.number), dimensions.voltage),
      },
      message: messages.close({
        source: dcSourceName(context, converter),
        converter: converter.tag,
        voltage: context.show(spot),
        trip: show(trip, dimensions.voltage),
        margin: show(margin, dimensions.ratio),
        wanted: wanted.display,
        where: context.where(spot),
      }),
    });
  },
});
