// Plants at random: analysing never throws, numbers are numbers, power is conserved, and physics is monotone where it is.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { textCodes } from '../../engine/checks/codes.ts';
import type { Finding } from '../../engine/finding.ts';
import { fixHolds } from '../../engine/trial.ts';
import { evenly } from '../kit/evenly.ts';
import { snapshotOf } from '../kit/feature.ts';
import { type Analysed, analysed, complaints, findingsOf, fixed } from '../kit/plants.ts';
import { declarationsOf, type PlantFacts, plantText, somePlant } from '../kit/random-plants.ts';

// Making a plant that fails smaller takes a quarter of an hour; its seed brings it back as it is.
fc.configureGlobal({ endOnFailure: true });

const today = '2026-11-25';

function of(facts: PlantFacts): Analysed {
  return analysed(plantText(facts), today);
}

function known(plant: Analysed, name: string): readonly { value: number; point: Record<string, unknown> }[] {
  return plant.analysis.values
    .all(name)
    .flatMap(({ value, point }) => (value === undefined ? [] : [{ value, point: { ...point } }]));
}

function numbersOf(finding: Finding): readonly number[] {
  return [finding.value?.number, finding.limit?.number].filter(number => number !== undefined);
}

describe('any plant', () => {
  it('is understood, and its findings carry real numbers in plain words', () => {
    fc.assert(
      fc.property(somePlant, facts => {
        const plant = of(facts);
        expect(plant.analysis.plant).toBe('Random');
        for (const finding of plant.analysis.findings) {
          for (const number of numbersOf(finding)) expect(Number.isFinite(number), finding.message).toBe(true);
          expect(finding.message).not.toMatch(/NaN|undefined|Infinity|(?<!is )unknown|unlimited|\[object/);
          expect(finding.place.end).toBeGreaterThan(finding.place.start);
          expect(finding.place.end).toBeLessThanOrEqual(plant.files.get(finding.place.path)!.length);
        }
        for (const { code, severity, message } of plant.analysis.findings)
          if (severity === 'error')
            expect(['syntax', 'unknown_name', 'wrong_value', 'wrong_dimension'], message).not.toContain(code);
      }),
      { numRuns: 150 },
    );
  });

  it('shows every value as a number with its unit, or as unknown', () => {
    fc.assert(
      fc.property(somePlant, facts => {
        const { values } = of(facts).analysis;
        for (const name of values.names) {
          const row = values.worst(name)!;
          if (row.value === undefined) expect(row.display, name).toBe('unknown');
          else {
            expect(Number.isFinite(row.value), name).toBe(true);
            expect(row.display, name).toMatch(/^-?\d/);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('says the same whatever the order of its declarations', () => {
    fc.assert(
      fc.property(somePlant, fc.infiniteStream(fc.nat()), (facts, order) => {
        const told = (text: string) =>
          analysed(text, today)
            .analysis.findings.map(({ code, severity, subject, message, value }) =>
              JSON.stringify({ code, severity, subject, message, value }),
            )
            .sort();
        const parts = declarationsOf(facts).map(text => ({ text, key: order.next().value as number }));
        // The order of duties and cases decides which of two equal points is named first: they keep theirs.
        const fixed = parts.filter(({ text }) => /^(duty|case) /.test(text));
        const others = parts.filter(({ text }) => !/^(duty|case) /.test(text)).sort((a, b) => a.key - b.key);
        const texts = [...others, ...fixed].map(({ text }) => text);
        expect(told(texts.join('\n\n'))).toEqual(told(plantText(facts)));
      }),
      { numRuns: 40 },
    );
  });
});

describe('conservation', () => {
  it('network power is the battery’s inner power less all losses between', () => {
    let checked = 0;
    fc.assert(
      fc.property(somePlant, facts => {
        const plant = of({ ...facts, units: 1 });
        for (const [index] of facts.duties.entries()) checked += balance(plant, `d${index + 1}`);
      }),
      { numRuns: 40 },
    );
    expect(checked).toBeGreaterThan(300);
  });

  it('two units share the network’s power', () => {
    let compared = 0;
    fc.assert(
      fc.property(somePlant, facts => {
        const plant = of({ ...facts, units: 2, duties: facts.duties.map(duty => ({ ...duty, at: 'MAIN' as const })) });
        for (const [index, duty] of facts.duties.entries()) {
          for (const { value } of known(plant, `d${index + 1}.network_power`))
            expect(Math.abs(value) / duty.power).toBeCloseTo(1, 8);
        }
        const [first, second] = ['K1', 'K2'].map(tag => known(plant, `${tag}.current`).map(row => row.value));
        expect(second).toEqual(first);
        compared += first!.length;
      }),
      { numRuns: 25 },
    );
    expect(compared).toBeGreaterThan(100);
  });
});

/** Checks every known point of a duty; returns how many there were. */
function balance(plant: Analysed, duty: string): number {
  let count = 0;
  const pick = (name: string, point: Record<string, unknown>): number => {
    const keys = ['case', 'duty', 'voltage', 'direction', 'soc'];
    const found = known(plant, name).filter(
      row =>
        keys.every(key => row.point[key] === undefined || row.point[key] === point[key]) &&
        (row.point['case'] === point['case'] || (row.point['case'] === undefined && point['case'] === undefined)),
    );
    if (found.length !== 1) throw new Error(`${found.length} points of ${name} at ${JSON.stringify(point)}`);
    return found[0]!.value;
  };
  for (const { value: current, point } of known(plant, 'K1.dc_current')) {
    if (point['duty'] !== duty) continue;
    count++;
    const terminal = pick('K1.terminal_power', point);
    const dc = pick('K1.dc_power', point);
    const loss = pick('K1.loss', point);
    const network = pick(`${duty}.network_power`, { ...point, duty: undefined });
    const scale = Math.abs(dc) + Math.abs(network);
    // Converter.
    expect(Math.abs(dc - terminal - loss) / scale).toBeLessThan(1e-9);
    // Direct current: cable and battery.
    const signed = Math.sign(dc) * current;
    expect(Math.abs(pick('K1.dc_voltage', point) * signed - dc) / scale).toBeLessThan(1e-9);
    const battery = pick('B1.voltage_min', point);
    const loop = pick('K1.dc_loop_resistance', { case: point['case'] });
    expect(Math.abs(battery - pick('K1.dc_voltage', point) - signed * loop) / battery).toBeLessThan(1e-9);
    // Network to open-circuit battery, as the efficiency has it.
    const efficiency = pick(`${duty}.efficiency`, { ...point, duty: undefined });
    const inner = network > 0 ? network / efficiency : network * efficiency;
    const emf = inner / signed;
    const resistance = (emf - battery) / signed;
    expect(resistance).toBeGreaterThan(0);
    const losses = inner - network;
    const ohmic = signed * signed * (resistance + loop);
    const onTheWay = terminal - network;
    expect(onTheWay / scale).toBeGreaterThan(-1e-12);
    expect(Math.abs(losses - ohmic - loss - onTheWay) / scale).toBeLessThan(1e-9);
    if (plant.analysis.values.names.includes('T1.loss'))
      expect(onTheWay - pick('T1.loss', point)).toBeGreaterThan(-1e-9 * scale);
  }
  return count;
}

describe('monotone', () => {
  /** What is picked changes with the network: here the parts stay the same. */
  const picked = (facts: PlantFacts): PlantFacts =>
    facts.transformer === undefined
      ? facts
      : { ...facts, transformer: { ...facts.transformer, rating: facts.transformer.rating ?? 1 } };
  const blocked = (facts: PlantFacts): number =>
    known(of({ ...picked(facts), cases: [], units: 1 }), 'K1.blocked_voltage')[0]?.value ?? Number.NaN;

  it('a higher network voltage never lowers the blocked voltage', () => {
    fc.assert(
      fc.property(somePlant, evenly(0, 10), (facts, more) => {
        // By the upper end of the band alone; the parts stay as they are.
        const tolerance = facts.tolerance ?? 10;
        const before = blocked({ ...facts, tolerance });
        const after = blocked({ ...facts, tolerance: tolerance + more });
        expect(after).toBeGreaterThanOrEqual(before * (1 - 1e-12));
      }),
      { numRuns: 60 },
    );
  });

  it('a larger converter is never more loaded', () => {
    let compared = 0;
    fc.assert(
      fc.property(somePlant, evenly(1, 2), (facts, factor) => {
        // With a loss that does not depend on the rating, the same current flows.
        const converter = { ...facts.converter, losses: 'polynomial' as const };
        const loadings = (current: number) =>
          known(of({ ...picked(facts), converter: { ...converter, current } }), 'K1.loading').map(row => row.value);
        const before = loadings(converter.current);
        const after = loadings(converter.current * factor);
        expect(after).toHaveLength(before.length);
        for (const [index, value] of after.entries()) expect(value).toBeLessThanOrEqual(before[index]! * (1 + 1e-9));
        compared += after.length;
      }),
      { numRuns: 40 },
    );
    expect(compared).toBeGreaterThan(100);
  });

  it('more health never shortens a discharge', () => {
    let compared = 0;
    fc.assert(
      fc.property(somePlant, evenly(1, 2), (facts, factor) => {
        const times = (capacity: number) =>
          known(
            of({ ...picked(facts), cases: [], battery: { ...facts.battery, capacity, rate: undefined } }),
            'B1.discharge_time',
          );
        const before = times(facts.battery.capacity);
        const after = times(facts.battery.capacity * factor);
        // More health may make a run possible that was none before.
        for (const { value, point } of before) {
          const same = after.find(later => JSON.stringify(later.point) === JSON.stringify(point));
          expect(same?.value, JSON.stringify(point)).toBeGreaterThanOrEqual(value * (1 - 1e-6));
        }
        compared += before.length;
      }),
      { numRuns: 30 },
    );
    expect(compared).toBeGreaterThan(50);
  });
});

describe('a fix', () => {
  /**
   * What no fix may bring about. Milder findings may come of it on plants that are far from sound, as the other side of
   * the same choice: a transformer of more power, or of less voltage, has less reactance for filter and voltage change.
   */
  const overload = new Set([
    'converter_loading',
    'transformer_loading',
    'battery_current',
    'dc_current',
    'filter_current',
  ]);
  const worse = ({ code, hazard }: Finding) => hazard || overload.has(code) || textCodes.has(code);

  it('that is offered removes its finding, and raises no overload and no hazard', () => {
    let count = 0;
    fc.assert(
      fc.property(somePlant, facts => {
        const plant = of(facts);
        const identity = ({ code, subject }: Finding) => `${code} ${subject}`;
        const before = new Set(complaints(plant).map(identity));
        const tried = { analysis: plant.analysis, snapshot: snapshotOf(plant.files), settings: { today } };
        for (const finding of plant.analysis.findings) {
          for (const fix of finding.fixes) {
            // One that brings something else is never offered: a larger transformer may drive more into the battery.
            if (!fixHolds(fix, finding, tried)) continue;
            count++;
            const after = analysed(fixed(plant.files, fix), today);
            const left = findingsOf(after, finding.code, finding.subject).filter(({ severity }) => severity !== 'note');
            expect(
              left.map(({ message }) => message),
              fix.title,
            ).toEqual([]);
            const fresh = complaints(after).filter(one => !before.has(identity(one)) && worse(one));
            expect(
              fresh.map(({ message }) => message),
              fix.title,
            ).toEqual([]);
          }
        }
      }),
      { numRuns: 60 },
    );
    expect(count).toBeGreaterThan(20);
  });
});
