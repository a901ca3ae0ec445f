// Sound plants of all kinds get no error and no warning; each mistake put into them is found, on the right components.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../engine/checks/example.ts';
import { checks } from '../../engine/checks/index.ts';
import { chopperFaults } from '../kit/chopper-faults.ts';
import { chopperPlants, ownChopperPlants } from '../kit/chopper-plants.ts';
import { designFaults } from '../kit/design-faults.ts';
import { factFaults } from '../kit/fact-faults.ts';
import { expectedTags, type Fault } from '../kit/fault.ts';
import { type Design, filesOfDesign, tagsOf } from '../kit/plant-design.ts';
import { type Analysed, analysed, complaints, edited, findingsOf, worst } from '../kit/plants.ts';
import { type SoundPlant, soundPlants } from '../kit/sound-plants.ts';
import { tiedFaults, tiedPlants } from '../kit/tied-plants.ts';

const today = '2026-11-25';
const faults: readonly Fault[] = [...designFaults, ...factFaults, ...chopperFaults, ...tiedFaults];

const of = (design: Design, previous?: Analysed): Analysed =>
  analysed(filesOfDesign(design), today, previous?.analysis);

const told = ({ analysis }: Analysed) =>
  analysis.findings.map(({ code, severity, subject, message, value, place }) => ({
    code,
    severity,
    subject,
    message,
    value,
    place,
  }));

describe('sound plants', () => {
  it('are of all kinds', () => {
    expect(soundPlants.length).toBeGreaterThanOrEqual(40);
    const each = (of: (plant: SoundPlant) => unknown) => new Set(soundPlants.map(of));
    expect(each(({ design }) => design.arrangement)).toEqual(new Set(['line', 'units', 'one_battery', 'branches']));
    expect(each(({ design }) => design.packs)).toEqual(new Set([1, 2, 3]));
    expect(each(({ design }) => design.sections.battery?.['chemistry'])).toEqual(new Set(['lfp', 'nmc', 'lead_acid']));
    expect(each(({ hand }) => hand.frequency)).toEqual(new Set([50, 60]));
    for (const choice of ['backwards', 'throughParts'] as const)
      expect(each(({ design }) => design[choice])).toEqual(new Set([true, false]));
    const transformers = each(({ design }) => design.sections.transformer?.['rated_power']);
    expect(transformers.has(undefined) && transformers.has('pick')).toBe(true);
    const powers = soundPlants.map(({ hand }) => hand.power);
    expect([Math.min(...powers), Math.max(...powers)]).toEqual([30e3, 5e6]);
    const networks = soundPlants.map(({ hand }) => hand.network);
    expect([Math.min(...networks), Math.max(...networks)]).toEqual([230, 1000]);
  });

  it.each([...soundPlants, ...chopperPlants, ...ownChopperPlants, ...tiedPlants])(
    '$design.name gives no error and no warning, and everything about it is known',
    ({ design }) => {
      const plant = of(design);
      expect(complaints(plant).map(({ code, subject, message }) => `${code} ${subject}: ${message}`)).toEqual([]);
      for (const name of judgedNames(design)) expect(plant.analysis.values.worst(name)?.value, name).toBeDefined();
    },
  );
});

/** Values by which the checks judge, of every component of its kind. */
function judgedNames(design: Design): readonly string[] {
  const names = {
    converter: ['diode_margin', 'voltage_reserve', 'control_margin', 'loading', 'dc_voltage_max', 'dc_current'],
    transformer: ['loading', 'spare'],
    chopper: ['duty_ratio_min', 'duty_ratio_max', 'loading', 'loss'],
    battery: ['discharge_time', 'string_reserve', 'recharge_time', 'refill_time'],
    filter: ['resonance_min', 'capacitor_share', 'ripple_current', 'current'],
    networkCable: ['drop'],
    batteryCable: ['drop'],
    grid: ['voltage_change'],
  } as const;
  return (Object.keys(names) as (keyof typeof names)[]).flatMap(section =>
    tagsOf(design, section).flatMap(tag => names[section].map(name => `${tag}.${name}`)),
  );
}

/** Of the plants for which the mistake makes sense some, others for each mistake. */
function seedsFor(fault: Fault, index: number): readonly { plant: SoundPlant; design: Design }[] {
  const plants = fault.plants ?? soundPlants;
  return plants
    .map((_, seed) => plants[(seed + 7 * index) % plants.length]!)
    .flatMap(plant => {
      const design = fault.put(plant);
      return design === undefined ? [] : [{ plant, design }];
    })
    .slice(0, 5);
}

describe('a mistake put into sound plants is found', () => {
  it.each(faults.map((fault, index) => ({ fault, index })))('$fault.code: $fault.name', ({ fault, index }) => {
    const seeds = seedsFor(fault, index);
    expect(seeds.length).toBe(5);
    for (const { plant, design } of seeds) {
      const found = of(design).analysis.findings.filter(({ code }) => code === fault.code);
      const subjects = found.map(({ subject }) => subject);
      expect(subjects.length, plant.design.name).toBeGreaterThan(0);
      expect(subjects, plant.design.name).toEqual(expect.arrayContaining([...expectedTags(fault, design)]));
    }
  });

  it('also where the sound plant was analysed before, with the same words', () => {
    for (const [index, fault] of faults.entries()) {
      if (index % 3 !== 0) continue;
      const { plant, design } = seedsFor(fault, index)[0]!;
      expect(told(of(design, of(plant.design))), fault.name).toEqual(told(of(design)));
    }
  });

  it('by every check', () => {
    const seeded = new Set<string>(faults.map(({ code }) => code));
    expect(checks.map(({ code }) => code).filter(code => !seeded.has(code))).toEqual([]);
  });
});

describe('several converters', () => {
  const shared = (second: string) =>
    edited(soundExample, [
      'connect MAIN -> T1 -> F1 -> K1 -> B1',
      `bus N1 {}\n${second}\nconnect MAIN -> T1 -> F1 -> N1\nconnect N1 -> K1 -> N2 -> B1\nconnect N1 -> K2 -> N2\nbus N2 {}`,
    ]);
  const converter = 'converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }';

  it('behind one filter leave its resonance where one converter has it', () => {
    for (const name of ['F1.resonance_min', 'F1.resonance_max'])
      expect(worst(analysed(shared(converter)), name).value).toBeCloseTo(worst(analysed(soundExample), name).value, 6);
  });

  it('are each judged by their own AC voltage span', () => {
    const text = edited(shared(edited(converter, ['ac_current', 'ac_voltage = 390 V .. 600 V, ac_current'])), [
      '  ac_current = 850 A\n',
      '  ac_current = 850 A\n  ac_voltage = 200 V .. 300 V\n',
    ]);
    const found = findingsOf(analysed(text), 'ac_voltage_range').map(({ subject }) => subject);
    expect(found.sort()).toEqual(['K1', 'K2']);
  });
});
