// Which few results are worth a place beside the text: for each kind the one that a line decides, and its margins.
import { kindByName } from '../../engine/kinds/index.ts';
import type { KindName } from '../../engine/kinds/kind.ts';

export interface LineResult {
  readonly kind: KindName;
  /** The property on whose line it is shown; where the component has it from its part, on the line with `is`. */
  readonly property: string;
  /** One result, or the two ends of a span. */
  readonly results: readonly [string] | readonly [string, string];
  readonly label: string;
}

export const lineResults: readonly LineResult[] = [
  { kind: 'transformer', property: 'rated_power', results: ['loading'], label: 'loaded to' },
  {
    kind: 'transformer',
    property: 'secondary_voltage',
    results: ['winding_min', 'winding_max'],
    label: 'possible',
  },
  { kind: 'filter', property: 'capacitance', results: ['resonance_min', 'resonance_max'], label: 'resonance' },
  { kind: 'converter', property: 'ac_current', results: ['loading'], label: 'loaded to' },
  { kind: 'chopper', property: 'current', results: ['loading'], label: 'loaded to' },
  { kind: 'battery', property: 'strings', results: ['discharge_time'], label: 'lasts' },
];

/** Ratios that say how much is left: the lowest of them is the component's worst margin. */
export const margins: Readonly<Partial<Record<KindName, readonly string[]>>> = {
  transformer: ['spare'],
  converter: ['diode_margin', 'control_margin', 'voltage_reserve'],
};

/** All of them that a kind has, by name. */
export function mainResults(kindName: string): readonly string[] {
  const kind = kindByName.get(kindName)?.name;
  const beside = lineResults.filter(line => line.kind === kind).flatMap(({ results }) => results);
  return [...(kind === undefined ? [] : (margins[kind] ?? [])), ...beside];
}
