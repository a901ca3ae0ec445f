// The codes of all findings: words that name the fault and read well after `accept`.

/** Mistakes in the text itself: they can't be accepted, only mended. */
const codesOfText = [
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

export const codes = [
  // voltage
  'uncontrolled_charging',
  'connected_below_floor',
  'control_margin',
  'voltage_reserve',
  'dc_window',
  'dc_trip_margin',
  'ride_through',
  'chopper_window',
  'ac_voltage_range',
  'cable_drop',
  'voltage_change',
  'winding_mismatch',
  'bus_voltage',
  'measuring_point',
  'short_circuit_ratio',
  'tap_changer',
  'vector_group',
  'modulation_limit',
  // current
  'converter_loading',
  'converter_overload',
  'transformer_loading',
  'harmonic_loading',
  'transformer_spare',
  'battery_current',
  'dc_current',
  'chopper_current',
  'link_share',
  'cable_ampacity',
  'circulating_current',
  'pack_mismatch',
  'filter_current',
  'load_step',
  'motor_start',
  'black_start',
  // energy
  'discharge_time',
  'power_shortfall',
  'recharge_time',
  'throughput',
  'capacity_by_rate',
  // filter
  'resonance_band',
  'capacitor_share',
  'ripple_current',
  'harmonic_distortion',
  'no_load_reactive',
  // surroundings
  'ambient_range',
  'heat_to_room',
  'altitude',
  // facts
  'assumed_by_tool',
  'missing_fact',
  'unsourced',
  'outside_curve',
  'impossible_value',
  'picked_losses',
  'temperature_ignored',
  'unconnected',
  'accepted',
  'acceptance_expired',
  'acceptance_unused',
  'requirement',
  'not_checked',
  ...codesOfText,
] as const;

export type Code = (typeof codes)[number];

export const textCodes: ReadonlySet<Code> = new Set<Code>(codesOfText);
