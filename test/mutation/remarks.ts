// What is to say about files whose tests notice less than they should, or that nobody has scored for a reason, by file; the
// table of scores repeats it.

const slow =
  'not scored, because its tests take more than ten seconds a run (a bridge behind sixty filters, marched until it repeats): that is hours for each file.';

export const remarks: Readonly<Record<string, string>> = {
  'engine/checks/context.ts': 'not scored, because all tests of checks judge it.',
  'engine/physics/bridgecircuit.ts': slow,
  'engine/physics/bridgefilter.ts': slow,
  'engine/physics/bridgemarch.ts': slow,
  'engine/physics/bridgeperiod.ts': slow,
  'engine/physics/conduction.ts': slow,
  'engine/physics/distortion.ts':
    'not scored: a run over the samples of a whole period was broken off after seven minutes.',
  'engine/physics/sidebands.ts':
    'not scored: a run was broken off after five minutes, before its integrals were made quicker.',
  'engine/physics/spectrum.ts':
    'scored before its bounds, the order of its lines and what it refuses were tested; what was missed then were mostly these.',
};
