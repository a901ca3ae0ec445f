// What an earlier analysis hands over never changes the outcome: random edits, each analysed with and without it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../engine/analysis.ts';
import { analyze, columnsComputed } from '../../engine/analyze.ts';
import { soundExample } from '../../engine/checks/example.ts';
import { checks } from '../../engine/checks/index.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import { throughParts } from '../kit/checks.ts';
import { ownChopperPlants } from '../kit/chopper-plants.ts';
import { filesOfDesign } from '../kit/plant-design.ts';
import { analysed, edited, type Files, filesOf, laidOut } from '../kit/plants.ts';
import { declarationsOf, type PlantFacts, plantText, somePlant } from '../kit/random-plants.ts';
import { soundPlants } from '../kit/sound-plants.ts';
import { starter } from '../kit/starter.ts';
import { tiedPlants } from '../kit/tied-plants.ts';

// Making a plant that fails smaller takes a quarter of an hour; its seed brings it back as it is.
fc.configureGlobal({ endOnFailure: true });

const today = '2026-11-25';

/** Everything that an analysis shows, with how each worst value came about. */
function shown(analysis: Analysis) {
  const { values, files, picks, outline } = analysis;
  return {
    ...told(analysis),
    files,
    picks,
    outline,
    values: values.names.map(name => ({
      worst: laidOut(values.worst(name)),
      all: values.all(name).map(({ value, display, point }) => ({ value, display, point })),
    })),
  };
}

/** What it says, and what it read and where, before anybody asks for values. */
function told({ findings, judged, notChecked, requirements, acceptances, facts }: Analysis) {
  return { findings, judged: [...judged].sort(), notChecked, requirements, acceptances, facts: facts() };
}

function expectSameAsCold(files: Files, warm: Analysis): void {
  expect(shown(warm)).toEqual(shown(analysed(files, today).analysis));
}

/** Analyses each text with the trees and the analysis before it. */
function walk(texts: readonly (string | Files)[]): void {
  let previous: Analysis | undefined;
  let trees = new Map<string, SourceTree>();
  for (const text of texts) {
    const files = typeof text === 'string' ? filesOf(text) : text;
    trees = new Map([...files].map(([path, content]) => [path, parse(content, trees.get(path))]));
    const states = new Map([...trees].map(([path, tree]) => [path, { state: 'text', tree } as const]));
    const [main] = files.keys();
    previous = analyze(main!, { files: states }, { today }, previous);
    expectSameAsCold(files, previous);
  }
}

/** One fact of the plant taken from another plant. */
const someChange: fc.Arbitrary<(facts: PlantFacts) => PlantFacts> = fc
  .tuple(somePlant, fc.nat(), fc.nat())
  .map(([other, key, inner]) => facts => {
    const keys = Object.keys(facts) as (keyof PlantFacts)[];
    const chosen = keys[key % keys.length]!;
    const before = facts[chosen];
    const after = other[chosen];
    if (typeof before !== 'object' || typeof after !== 'object' || Array.isArray(before))
      return { ...facts, [chosen]: after };
    // Inside a component one property alone, as an author types.
    const names = Object.keys(after);
    const name = names[inner % names.length]!;
    return { ...facts, [chosen]: { ...before, [name]: (after as unknown as Record<string, unknown>)[name] } };
  });

/** Where the last digits of its numbers stand. */
const lastDigits = [...soundExample.matchAll(/(?<=\d)\d(?= )/g)].map(({ index }) => index);

describe('with an earlier analysis', () => {
  it('facts that change one after the other give what a fresh analysis gives', () => {
    fc.assert(
      fc.property(somePlant, fc.array(someChange, { minLength: 2, maxLength: 4 }), (first, changes) => {
        let facts = first;
        const texts = [plantText(facts)];
        for (const change of changes) {
          facts = change(facts);
          texts.push(plantText(facts));
        }
        walk([...texts, texts[0]!]);
      }),
      { numRuns: 10 },
    );
  });

  it('so do lines that come and go, break, or move', () => {
    fc.assert(
      fc.property(somePlant, fc.array(fc.tuple(fc.nat(), fc.nat()), { minLength: 2, maxLength: 4 }), (facts, edits) => {
        const texts = [plantText(facts)];
        for (const [kind, place] of edits) texts.push(typed(texts.at(-1)!, kind, place));
        walk([...texts, texts[0]!]);
      }),
      { numRuns: 10 },
    );
  });

  it('so do declarations in another order', () => {
    fc.assert(
      fc.property(somePlant, fc.nat(), (facts, shift) => {
        const parts = declarationsOf(facts);
        const turn = shift % parts.length;
        walk([plantText(facts), [...parts.slice(turn), ...parts.slice(0, turn)].join('\n'), plantText(facts)]);
      }),
      { numRuns: 8 },
    );
  });

  it('so does any plant after any other', () => {
    fc.assert(
      fc.property(somePlant, somePlant, (one, other) => walk([plantText(one), plantText(other), plantText(one)])),
      { numRuns: 8 },
    );
  });

  it('so does each bad example after the sound one, and back', () => {
    for (const { bad } of checks) walk([soundExample, edited(soundExample, ...bad), soundExample]);
  });

  it('so does the starter, its parts edited too', () => {
    const files = starter('valley-station.plant');
    const withPart = (from: string, to: string) =>
      new Map([...files].map(([path, text]) => [path, path.startsWith('parts/') ? text.replace(from, to) : text]));
    walk([files, withPart('224', '230'), withPart('850 A', '800 A'), withPart('  50 %  3.29 V\n', ''), files]);
    walk([soundExample, throughParts(soundExample), soundExample]);
  });

  it('so does every number of the sound example, changed and changed back', () => {
    let previous = analysed(soundExample, today).analysis;
    for (const at of lastDigits) {
      const other = soundExample[at] === '0' ? '5' : '0';
      const text = soundExample.slice(0, at) + other + soundExample.slice(at + 1);
      previous = analysed(text, today, previous).analysis;
      expect(told(previous)).toEqual(told(analysed(text, today).analysis));
    }
  });

  it('so do facts on another word: sourced, assumed, of another class', () => {
    const rate = 'capacity = 280 Ah';
    const inWords = (words: string) => edited(soundExample, [rate, `${rate} ${words}`]);
    walk([
      soundExample,
      inWords('assumed'),
      inWords('assumed "like the last one"'),
      inWords('from "type test"'),
      soundExample,
    ]);
    walk([inWords('from "type test"'), soundExample, inWords('assumed')]);
  });

  it('so do values that other names lead to', () => {
    const named = edited(
      `let peak = 2 * half\nlet half = 200 kW\n${soundExample}\ncase worn { B1.resistance = 1.2 * B1.resistance }\nduty shunting { discharge = peak / 4 for 2 min, at = MAIN }`,
    );
    const change = (...edits: readonly (readonly [string, string])[]): string => edited(named, ...edits);
    walk([
      named,
      change(['let half = 200 kW', 'let half = 150 kW']),
      named,
      change(['let half = 200 kW', 'let half = 200 A']),
      change(['let half = 200 kW', 'let half = peak']),
      change(['let half = 200 kW\n', '']),
      change(['let half = 200 kW', '# moved down by a line\nlet half = 200 kW']),
      named,
      change(['let half = 200 kW', 'let half = 200 kW ± 5 %']),
      change(['grid MAIN', 'grid OTHER']),
      change(['B1.resistance = 1.2 * B1.resistance', 'B1.resistance = 1.2 * B2.resistance']),
      named,
    ]);
  });

  it('so do cases whose facts name others, whatever becomes of these', () => {
    const named = edited(
      `${soundExample}\ncase worn { B1.resistance = 1.2 * B1.resistance, B1.temperature = cold, K1.ac_current = 0.9 * K1.ac_current }\ncase both is worn { B1.state_of_health = 80 % }\nlet cold = 5 °C`,
    );
    const change = (...edits: readonly (readonly [string, string])[]): string => edited(named, ...edits);
    walk([
      named,
      change(['let cold = 5 °C', 'let cold = 6 °C']),
      change(['let cold = 5 °C', 'let cold = 6 A']),
      change(['let cold = 5 °C', 'let warm = 5 °C']),
      named,
      change(['ac_current = 850 A', 'ac_current = 840 A']),
      change(['ac_current = 850 A', 'ac_current = 0.84 kA']),
      change(['converter K1', 'converter K9']),
      change(['battery B1', 'bus B1']),
      named,
      `\n${change(['cold, K1', 'cold,\n  K1'])}`,
      change(['B1.temperature = cold', 'B1.temperature = cold, B1.temperature = cold']),
      change(['let cold = 5 °C', 'let cold = B1.temperature']),
      change(['case both is worn', 'case both is worn, gone']),
      named,
    ]);
  });

  it('so do cases of components whose declaration can’t be read for a while', () => {
    const text = `${soundExample}
case worn { B1.state_of_health = 80 %, K1.ac_current = 800 A }
case cold is worn { B1.temperature = 5 °C }
`;
    const unread = [
      edited(text, ['battery B1 {', 'battery 1B1 {']),
      edited(text, ['converter K1 {', 'converter "K1 {']),
      edited(text, ['battery B1 {', 'battery "B1" {'], ['converter K1 {', 'converter {']),
    ];
    walk(unread.flatMap(other => [text, other, text, other]));
  });

  it('so do declarations that a line above them moves down, and up again', () => {
    const [plant, parts] = [...throughParts(soundExample).values()];
    const text = edited(
      plant!,
      ['use "parts.plant"', 'practice Rules { control_margin = 12 % }'],
      ['altitude = 900 m', 'altitude = 900 m\n  follows = Rules'],
    );
    const cases =
      'case worn { B1.resistance = 1.2 * B1.resistance }\ncase cold is worn { B1.temperature = 2 °C, T1.impedance = 5 % }';
    // Findings on a part's fact, at the `is`, and on a fact to be written in.
    const wrong = edited(parts!, ['load_loss = 5.8 kW', 'load_loss = 58 kW']);
    const lacking = 'transformer T2 {\n  rated_power = 100 kVA\n}';
    const lines = [text, wrong, lacking, cases, ''].join('\n').split('\n');
    const plain = lines.join('\n');
    const places = [...lines.keys()].filter(index => index % 4 === 0);
    walk(places.flatMap(index => [plain, [...lines.slice(0, index), '', ...lines.slice(index)].join('\n')]));
  });

  it('so do requirements of which only the names, the bound or the duty changes', () => {
    const requiring = (bound: string, condition = 'T1.loading <= most'): string =>
      `let most = ${bound}\n${soundExample}\nduty idle { discharge = 20 kW for 2 min, at = MAIN }\nrequire ${condition}\nrequire again: ${condition}`;
    const fails = analysed(requiring('40 %'), today).analysis;
    expect(fails.findings.filter(({ code }) => code === 'requirement')).toHaveLength(2);
    walk([
      requiring('90 %'),
      requiring('40 %'),
      requiring('90 %'),
      requiring('40 %', 'T1.loading <= most during idle'),
      requiring('40 %', 'T1.loading <= most'),
      requiring('40 %', 'T1.loading >= most'),
      requiring('90 %', 'T1.loading <= most because "it shall last"'),
    ]);
  });

  it('so do duties that no longer find the battery as it stands, and do again', () => {
    const lacking = (more: string): string =>
      edited(soundExample, ['for 45 min', `for 45 min\n  ${more}`], ['strings = 4', 'strings = 6']);
    walk([
      lacking(''),
      lacking('lost = string'),
      lacking('lost = none'),
      lacking('soc = 30 % .. 80 %'),
      lacking('lost = strin'),
      lacking('soc = 30 A .. 80 A'),
      lacking(''),
    ]);
  });

  it('so do cases that restate more or other facts, and facts that only now are looked at', () => {
    const cases = Array.from({ length: 35 }, (_, index) => `case c${index} { B1.temperature = ${10 + index / 5} °C }`);
    const plant = (...edits: readonly (readonly [string, string])[]): string =>
      edited([soundExample, 'case taps { T1.tap_range = 2.5 % }', ...cases].join('\n'), ...edits);
    const onLoad = ['no_load_loss = 800 W', 'no_load_loss = 800 W\n  tap_changer = on_load'] as const;
    const loss = ['load_loss = 5.8 kW', 'load_loss = 5.9 kW'] as const;
    const more = ['case c34 { ', 'case c34 { K1.ac_current = 860 A, '] as const;
    walk([
      plant(),
      plant(loss),
      plant(loss, more),
      plant(more),
      plant(onLoad),
      plant(onLoad, ['T1.tap_range = 2.5 %', 'T1.tap_step = 5 %']),
    ]);
  });

  it('so do ratings by which converters share, and lines that connect the plant in another way', () => {
    const units = soundPlants.filter(({ design }) => design.arrangement === 'units' && !design.throughParts);
    for (const { design } of [units[0]!, tiedPlants.find(plant => !plant.design.throughParts)!]) {
      const text = filesOfDesign(design).get('plant.plant')!;
      const lines = text.split('\n');
      const connecting = lines.filter(line => line.startsWith('connect '));
      expect(connecting.length).toBeGreaterThan(1);
      const without = (line: string): string => lines.filter(other => other !== line).join('\n');
      const rated = text.replace(/ac_current = \d+/, '$&1');
      expect(rated).not.toBe(text);
      walk([text, rated, without(connecting.at(-1)!), text, without(connecting[0]!)]);
    }
  });

  it('so do digits anywhere in plants of several converters, batteries and choppers', () => {
    const designs = [...soundPlants, ...tiedPlants, ...ownChopperPlants]
      .map(({ design }) => design)
      .filter(({ throughParts, units, packs }) => !throughParts && units * packs > 1);
    fc.assert(
      fc.property(
        fc.nat(),
        fc.array(fc.tuple(fc.nat(), fc.nat(9)), { minLength: 6, maxLength: 8 }),
        (which, digits) => {
          let text = filesOfDesign(designs[which % designs.length]!).get('plant.plant')!;
          let previous = analysed(text, today).analysis;
          for (const [place, digit] of digits) {
            const all = [...text.matchAll(/\d/g)];
            const { index } = all[place % all.length]!;
            text = `${text.slice(0, index)}${digit}${text.slice(index + 1)}`;
            previous = analysed(text, today, previous).analysis;
            expect(told(previous)).toEqual(told(analysed(text, today).analysis));
          }
        },
      ),
      { numRuns: 10 },
    );
  });

  it('so does the same number in another unit', () => {
    const inUnits = (...pairs: readonly (readonly [string, string])[]) => edited(soundExample, ...pairs);
    walk([
      soundExample,
      inUnits(['discharge = 400 kW', 'discharge = 0.4 MW']),
      inUnits(['secondary_voltage = 360 V', 'secondary_voltage = 0.36 kV'], ['for 45 min', 'for 0.75 h']),
      inUnits(['load_loss = 5.8 kW', 'load_loss = 1.16 %']),
    ]);
  });
});

describe('what is taken over', () => {
  const cold = analysed(soundExample, today).analysis;
  const again = (text: string) => columnsComputed(analysed(text, today, cold).analysis);

  it('is everything after an edit that says nothing', () => {
    expect(again(`\n# a remark\n\n${soundExample}`)).toBe(0);
    expect(again(soundExample.replace('  strings = 4', '  strings   =   4  # in parallel'))).toBe(0);
  });

  it('is most after an edit of one fact', () => {
    expect(again(edited(soundExample, ['capacity = 280 Ah', 'capacity = 281 Ah']))).toBeLessThan(
      columnsComputed(cold) / 2,
    );
  });
});

/** Takes a line out, doubles it, breaks it, or adds an empty one, a remark, or a stray word. */
function typed(text: string, kind: number, place: number): string {
  const lines = text.split('\n');
  const index = place % lines.length;
  const line = lines[index]!;
  const put: readonly (readonly string[])[] = [
    [],
    [line, line],
    [line.slice(0, line.length / 2)],
    ['', line],
    [line, '# x'],
    [line, 'stray'],
    [line.replace(/\d/, '7')],
  ];
  return [...lines.slice(0, index), ...put[kind % put.length]!, ...lines.slice(index + 1)].join('\n');
}
