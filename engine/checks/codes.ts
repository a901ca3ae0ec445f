// The codes of all findings: words that name the fault and read well after `accept`.

export const codes = [
  // voltage
  'uncontrolled_charging',
  'connected_below_floor',
  'control_margin',
  'voltage_reserve',
  'dc_window',
  'winding_mismatch',
  // current
  'converter_loading',
  'transformer_loading',
  'transformer_spare',
  'battery_current',
  // energy
  'discharge_time',
  'power_shortfall',
  // filter
  'resonance_band',
  'capacitor_share',
  // surroundings
  'ambient_range',
  'altitude',
  // facts
  'assumed_by_tool',
  'missing_fact',
  'unsourced',
  'outside_curve',
  'impossible_value',
  'temperature_ignored',
  'unconnected',
  'accepted',
  'acceptance_expired',
  'acceptance_unused',
  'requirement',
  'not_checked',
  // text
  'syntax',
  'unknown_name',
  'unknown_property',
  'unknown_unit',
  'wrong_dimension',
  'wrong_value',
  'duplicate',
  'cycle',
  'reversed_range',
  'decimal_comma',
  'missing_file',
  'outside_workspace',
  'not_evaluated',
] as const;

export type Code = (typeof codes)[number];

/** Mistakes in the text itself: they can't be accepted, only mended. */
export const textCodes: ReadonlySet<Code> = new Set<Code>([
  'syntax',
  'unknown_name',
  'unknown_property',
  'unknown_unit',
  'wrong_dimension',
  'wrong_value',
  'duplicate',
  'cycle',
  'reversed_range',
  'decimal_comma',
  'missing_file',
  'outside_workspace',
  'not_evaluated',
]);
