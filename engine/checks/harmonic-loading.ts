// Do the harmonics leave the transformer enough of its rating?
import { harmonicLossFactor } from '../results/harmonics.ts';
import { loading } from '../results/transformer.ts';
import { deratedLoading, harmonicBound, thermalLoading } from '../results/transformer-thermal.ts';
import { dimensions } from '../units/dimension.ts';
import { show } from '../units/show.ts';
import { defineCheck } from './check.ts';
import { type Spot, worstSpot } from './context.ts';
import { uncovered } from './transformer-overload.ts';

const messages = {
  harmonics: (f: {
    transformer: string;
    loading: string;
    thermal: string;
    factor: string;
    eddy: string;
    why: string;
    where: string;
  }) =>
    `With its harmonics ${f.transformer} is as warm as at ${f.thermal} of its rating, more than it may carry; by current it is loaded to ${f.loading}${f.where}${f.why}. They multiply the eddy loss of its windings by ${f.factor}, and ${f.eddy} of its load loss is eddy loss.`,
};

const noPoint = { direction: 0, voltage: 0, soc: 0 };

export const harmonicLoading = defineCheck({
  code: 'harmonic_loading',
  group: 'current',
  title: 'Harmonics overheat the transformer',
  why: 'Eddy currents in the windings grow with the square of the frequency: harmonics of a few per cent can heat a transformer like an overload, at a current that its plate allows.',
  remedy:
    'Filter more, take the next preferred rating, or state the `eddy_loss` and the converters’ `harmonics` as their makers do.',
  source:
    'IEEE C57.110, harmonic loss factor (seen in the introduction of a paper), permissible current (from memory); IEC 61378-1 (from memory)',
  on: 'transformer',
  bad: [
    ['ac_current = 850 A', 'ac_current = 850 A\n  harmonics = curve order { 5 5 %, 7 5 %, 11 4 %, 13 3 % }'],
    ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  eddy_loss = 30 %'],
  ],
  givesWayTo: ['transformer_loading'],
  run: (context, transformer) => {
    const most = context.worst(transformer, deratedLoading);
    if (most === undefined) return;
    const passes = (spot: Spot): boolean => spot.value > 1 && uncovered(context, transformer, spot) === '';
    const lasting = passes(most) ? context.worst(transformer, deratedLoading, spot => !passes(spot)) : most;
    // Beyond the rating by current alone, transformer_loading speaks.
    if (lasting !== undefined && lasting.value > 1) return;
    // Only where the ripple could matter at all is the spectrum computed.
    const spots = context.spots(
      transformer,
      thermalLoading,
      undefined,
      caseIndex => !(most.value <= context.steps(transformer, harmonicBound, caseIndex)[0]!),
    );
    // First-order heating is linear in the heat, so that harmonics raise the rise of a passing duty as they raise the heat.
    const why = (spot: Spot): string | undefined =>
      uncovered(context, transformer, spot, (spot.value / context.beside(spot, transformer, deratedLoading)) ** 2);
    const spot = worstSpot(spots, thermalLoading, candidate => candidate.value > 1 && why(candidate) !== '');
    if (spot === undefined) return;
    context.say({
      severity: 'warning',
      component: transformer,
      place: context.place(transformer, 'rated_power', spot.caseIndex),
      related: context.duty(spot),
      spot,
      limit: { name: undefined, number: 1, display: '100 %' },
      message: messages.harmonics({
        transformer: transformer.tag,
        loading: show(context.beside(spot, transformer, loading), dimensions.ratio),
        thermal: context.show(spot),
        factor: show(context.beside(spot, transformer, harmonicLossFactor, noPoint), dimensions.count),
        eddy: show(context.number(transformer, 'eddy_loss', 'nominal', spot.caseIndex), dimensions.ratio),
        why: why(spot) ?? '',
        where: context.where(spot),
      }),
    });
  },
});
