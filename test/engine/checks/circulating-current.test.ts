// Converters side by side: what may circulate between them, and what keeps it from doing so.
import { describe, expect, it } from 'vitest';
import { circulatingCurrent } from '../../../engine/checks/circulating-current.ts';
import { bad, expectFixesToHold, showsItself } from '../../kit/checks.ts';
import { complaints, type Edit, findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

showsItself(circulatingCurrent, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(circulatingCurrent), 'circulating_current')).toEqual({
    message:
      'K1 and K2 share T1 and B1, and their carriers do not run in step: a zero-sequence current of up to 475.8 A peak to peak can circulate between them in each phase, limited by 200 µH of chokes alone.',
    at: 'K1',
    related: [['K2', 'K2 is joined with it on both sides.']],
    limit: undefined,
    fixes: ['Run their carriers in step'],
  });
});

const second = 'switching_frequency = 4 kHz }';
const found = (...edits: readonly Edit[]) => findingsOf(bad(circulatingCurrent, ...edits), 'circulating_current');

describe('two converters on one winding and one battery', () => {
  it('drive a ripple round their two chokes', () => {
    const plant = bad(circulatingCurrent);
    const voltage = worst(plant, 'K1.dc_voltage_max').value;
    // U/(2·f·L): half a period of 1/4000 s with the whole direct voltage across 200 µH.
    expect(worst(plant, 'K1.circulating_current').value).toBeCloseTo((voltage * 125e-6) / 200e-6, 9);
    expect(worst(plant, 'K2.circulating_current').value).toBeCloseTo(worst(plant, 'K1.circulating_current').value, 9);
    expect(theFinding(plant, 'circulating_current')).toMatchObject({ severity: 'warning', subject: 'K1' });
  });

  it('are fine with carriers in step, and the fix says so', () => {
    expect(expectFixesToHold(bad(circulatingCurrent), 'circulating_current')).toBe(1);
  });

  it('need both of them in step', () => {
    expect(found([second, `carriers = synchronised, ${second}`])).toHaveLength(1);
  });

  it('can’t run in step at different frequencies', () => {
    const edits: readonly Edit[] = [
      ['  switching_frequency = 4 kHz\n', '  switching_frequency = 4 kHz\n  carriers = synchronised\n'],
      [second, 'carriers = synchronised, switching_frequency = 5 kHz }'],
    ];
    expect(found(...edits)).toHaveLength(1);
    expect(found(...edits)[0]!.fixes).toEqual([]);
  });

  it('are a short circuit without chokes between them', () => {
    const plant = bad(
      circulatingCurrent,
      ['N1 -> F2 -> K2 -> N2', 'N1 -> K2 -> N2'],
      ['-> T1 -> N1 -> F1 -> K1', '-> T1 -> F1 -> N1 -> K1'],
    );
    expect(theFinding(plant, 'circulating_current')).toMatchObject({ severity: 'error' });
  });

  it('are separate with a winding of their own', () => {
    const own: readonly Edit[] = [
      ['-> T1 -> N1 -> F1', '-> N1 -> T1 -> F1'],
      ['N1 -> F2 -> K2', 'N1 -> T2 -> F2 -> K2'],
      [
        'bus N1 {}',
        'bus N1 {}\ntransformer T2 { rated_power = 500 kVA, primary_voltage = 400 V, secondary_voltage = 360 V, impedance = 6 % ± 10 %, load_loss = 5.8 kW, no_load_loss = 800 W }',
      ],
    ];
    expect(found(...own)).toEqual([]);
    expect(complaints(bad(circulatingCurrent, ...own)).map(({ message }) => message)).toEqual([]);
  });
});

describe('what it says', () => {
  const code = 'circulating_current';

  it('of a loop without a choke: what short-circuits, without an offer', () => {
    const plant = bad(
      circulatingCurrent,
      ['N1 -> F2 -> K2 -> N2', 'N1 -> K2 -> N2'],
      ['-> T1 -> N1 -> F1 -> K1', '-> T1 -> F1 -> N1 -> K1'],
    );
    expect(told(plant, code)).toEqual({
      message:
        'K1 and K2 share T1 and B1 with 0 µH of chokes of their own between them: whenever their legs switch apart, one shorts the DC link through the other.',
      at: 'K1',
      related: [['K2', 'K2 is joined with it on both sides.']],
      limit: undefined,
      fixes: [],
    });
  });

  it('of converters straight on the network, in the case in which the link is highest', () => {
    const direct: Edit = ['connect MAIN -> T1 -> N1', 'connect MAIN -> N1'];
    const cases: Edit = ['require T1.loading <= 95 %', 'case high { B1.cells_in_series = 226 }'];
    expect(told(bad(circulatingCurrent, direct, cases), code).message).toMatch(
      /^K1 and K2 share MAIN and B1, and their carriers .* limited by 200 µH of chokes alone in case high\.$/,
    );
  });

  it('offers carriers in step only where all of them can run so, and nobody has said anything of it', () => {
    const titles = (...edits: readonly Edit[]) =>
      found(...edits).flatMap(({ fixes }) => fixes.map(({ title }) => title));
    expect(titles()).toEqual(['Run their carriers in step']);
    expect(theFinding(bad(circulatingCurrent), code).fixes[0]).toMatchObject({ safe: false, edits: [{}, {}] });
    expect(titles([second, 'switching_frequency = 5 kHz }'])).toEqual([]);
    expect(titles([second, `carriers = free, ${second}`])).toEqual([]);
    expect(titles(['converter K2 {', 'converter K2 is Twin\npart converter Twin {'])).toEqual([]);
  });

  it('nothing where a choke is not known', () => {
    expect(found(['converter_inductance = 100 µH', 'converter_inductance = 100 V'])).toEqual([]);
  });
});
