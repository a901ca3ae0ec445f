// What the tool takes for a battery of which only the chemistry is stated: its voltage at rest, its growth of resistance.
import { propertyOf } from '../kinds/index.ts';
import type { Kind } from '../kinds/kind.ts';
import { type Chemistry, resistanceGrowth, restVoltages } from '../tables/chemistry.ts';
import type { Citation } from '../tables/evidence.ts';
import { type CurveSpec, makeCurve } from '../units/curve.ts';
import { dimensions } from '../units/dimension.ts';
import type { LoweredFacts } from './facts.ts';
import type { Fact } from './plant.ts';

const made = new Map<string, Fact>();

/** The facts that follow from the chemistry where neither they nor what replaces them is written. */
export function chemistryFacts(kind: Kind, { facts, failed }: LoweredFacts): readonly Fact[] {
  const word = facts.get('chemistry')?.value;
  if (kind.name !== 'battery' || word?.type !== 'word' || !isChemistry(word.word)) return [];
  const chemistry = word.word;
  const open = (...names: readonly string[]) => names.every(name => !facts.has(name) && !failed.has(name));
  return [
    ...(open('open_circuit_voltage', 'voltage') ? [restFact(kind, chemistry)] : []),
    ...(open('resistance_growth') ? [growthFact(kind, chemistry)] : []),
  ];
}

function restFact(kind: Kind, chemistry: Chemistry): Fact {
  const { curve, citation, caveats } = restVoltages[chemistry];
  const reason = [`curve of ${chemistry} cells, ${inWords(citation)}`, ...caveats.map(plain)].join('; ');
  return curveFact(kind, chemistry, 'open_circuit_voltage', { curve, axis: 'soc', per: 'cell', reason });
}

function growthFact(kind: Kind, chemistry: Chemistry): Fact {
  const { curve, citation } = resistanceGrowth[chemistry];
  const reason = `shape of ${chemistry} cells for want of the maker’s, ${inWords(citation)}; real cells differ by a factor of two in the cold`;
  return curveFact(kind, chemistry, 'resistance_growth', { curve, axis: 'temperature', per: undefined, reason });
}

interface Table {
  readonly curve: CurveSpec;
  readonly axis: string;
  readonly per: 'cell' | undefined;
  readonly reason: string;
}

function curveFact(kind: Kind, chemistry: Chemistry, name: string, { curve, axis, per, reason }: Table): Fact {
  const known = made.get(`${name} ${chemistry}`);
  if (known !== undefined) return known;
  const property = propertyOf(kind, name)!;
  const line = makeCurve(curve);
  if (!line.ok || line.curve.shape === 'surface' || property.type.is !== 'quantity')
    throw new Error(`the table of ${name} for ${chemistry} is no curve`);
  const fact: Fact = {
    property,
    value: {
      type: 'curve',
      axes: [axis],
      curve: line.curve,
      dimension: dimensions[property.type.dimension],
      per,
      clauses: {},
    },
    provenance: { class: 'tool', text: reason },
    place: undefined,
    whole: undefined,
    inherited: false,
    written: `curve of ${chemistry} over ${axis}`,
  };
  made.set(`${name} ${chemistry}`, fact);
  return fact;
}

function inWords({ source, evidence }: Citation): string {
  return evidence === 'seen in source' ? source : `${source} (${evidence})`;
}

function plain(sentence: string): string {
  return sentence.replace(/\.$/, '');
}

function isChemistry(word: string): word is Chemistry {
  return Object.hasOwn(restVoltages, word);
}
