// Every fix that is offered, on sound plants with a mistake and on the starter's first draft, mends it and breaks nothing.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { textCodes } from '../../engine/checks/codes.ts';
import { documentationOf, exampleOf } from '../../engine/checks/documentation.ts';
import type { Finding, Fix } from '../../engine/finding.ts';
import { fixHolds, fixTrial } from '../../engine/trial.ts';
import { designFaults } from '../kit/design-faults.ts';
import { factFaults } from '../kit/fact-faults.ts';
import { snapshotOf } from '../kit/feature.ts';
import { filesOfDesign } from '../kit/plant-design.ts';
import { type Analysed, analysed, complaints, type Files, fixed } from '../kit/plants.ts';
import { soundPlants } from '../kit/sound-plants.ts';

const today = '2026-11-25';
const faults = [...designFaults, ...factFaults];

interface Offer {
  readonly finding: Finding;
  readonly fix: Fix;
  readonly holds: boolean;
}

/** Every fix that a finding brings, and whether it is offered to the author. */
function offersOf({ files, analysis }: Analysed): readonly Offer[] {
  const snapshot = snapshotOf(files);
  return analysis.findings.flatMap(finding =>
    finding.fixes.map(fix => ({
      finding,
      fix,
      holds: fixHolds(fix, finding, { analysis, snapshot, settings: { today } }),
    })),
  );
}

/** What speaks against an offer when it is made by hand and everything is analysed anew; empty where it keeps its word. */
function broken(plant: Analysed, { finding, fix }: Offer): readonly string[] {
  const after = analysed(fixed(plant.files, fix), today);
  const same = (one: Finding) => one.code === finding.code && one.subject === finding.subject;
  const [left, was] = [after, plant].map(({ analysis }) => analysis.findings.filter(same).length);
  const reasons = left! < was! ? [] : [`${finding.code} of ${finding.subject} is still there`];
  if (fix.fills === true || textCodes.has(finding.code)) return reasons;
  const known = new Set(complaints(plant).map(({ code, subject }) => `${code} ${subject}`));
  const fresh = complaints(after).filter(({ code, subject }) => !known.has(`${code} ${subject}`));
  return [...reasons, ...fresh.map(({ code, subject }) => `${code} of ${subject} has come`)];
}

const told = ({ finding, fix }: Offer) => `${finding.code} of ${finding.subject}: ${fix.title}`;

function expectOffersToHold(files: Files | string): readonly Offer[] {
  const plant = analysed(files, today);
  const offers = offersOf(plant);
  for (const offer of offers) {
    const reasons = broken(plant, offer);
    if (offer.holds) expect(reasons, told(offer)).toEqual([]);
    else expect(reasons, `${told(offer)}, which is held back`).not.toEqual([]);
  }
  return offers;
}

const offered: Offer[] = [];

describe('fixes of a mistake in a sound plant', () => {
  it.each(faults.map((fault, index) => ({ fault, index })))('$fault.code: $fault.name', ({ fault, index }) => {
    const designs = soundPlants.map((_, seed) => fault.put(soundPlants[(seed + 7 * index) % soundPlants.length]!));
    const design = designs.find(one => one !== undefined);
    offered.push(...expectOffersToHold(filesOfDesign(design!)));
  });

  it('are there in number, and most are not held back', () => {
    const held = offered.filter(({ holds }) => !holds);
    expect(offered.length).toBeGreaterThan(40);
    expect(held.length).toBeLessThan(offered.length / 5);
  });
});

describe('fixes of the documented examples', () => {
  const withFix = ['uncontrolled_charging', 'connected_below_floor', 'transformer_loading', 'missing_fact'] as const;
  const text = [
    'unknown_property',
    'unknown_name',
    'decimal_comma',
    'acceptance_unused',
    'acceptance_expired',
  ] as const;

  it.each([...withFix, ...text])('%s has one, and it holds', code => {
    const offers = expectOffersToHold(exampleOf(documentationOf(code)).bad).filter(
      ({ finding }) => finding.code === code,
    );
    expect(offers.length).toBeGreaterThan(0);
    expect(offers.filter(({ holds }) => !holds).map(told)).toEqual([]);
  });
});

it('fixes of the starter’s first draft all hold', () => {
  const folder = path.resolve(import.meta.dirname, '../../client/starter');
  const names = ['first-draft.plant', 'house-rules.plant', 'parts/lfp-string.plant', 'parts/converters.plant'];
  const files = new Map(names.map(name => [name, readFileSync(path.join(folder, name), 'utf8')]));
  const offers = expectOffersToHold(files);
  expect(offers.length).toBeGreaterThanOrEqual(3);
  expect(offers.filter(({ holds }) => !holds).map(told)).toEqual([]);
});

describe('a text of many mistakes', () => {
  // Some mend alone, one not at all: behind its comma stands no number.
  const text = `let one = 0,4 MW
let two = 0,5 MW
grid MAIN { voltage = 400 V ± 10 %, frequencie = 50 Hz, fault_power = 9,5 MVA }
let three = 12 foo
let four = 0,x MW
`;

  it('is offered the same fixes whether they are tried together or one by one', () => {
    const plant = analysed(text, today);
    const tried = { analysis: plant.analysis, snapshot: snapshotOf(plant.files), settings: { today } };
    const together = plant.analysis.findings.map(fixTrial(tried)).map(({ fixes }) => fixes);
    const alone = plant.analysis.findings.map(one => one.fixes.filter(fix => fixHolds(fix, one, tried)));
    expect(together).toEqual(alone);
    expect(together.flat().length).toBeGreaterThan(3);
  });
});
