// The zero-sequence current that circulates between two converters joined at both their AC and their DC terminals.

/**
 * Largest peak-to-peak ripple (A, each phase) that switching can drive round the loop. With all legs of a converter on
 * one rail its terminals stand half the direct voltage away from the middle; two carriers in opposition hold the whole
 * direct voltage (V) across the chokes of one phase (H, both converters) for up to half a switching period (Hz):
 * ΔI = U_dc / (2·f·(L_1 + L_2)). Without bound where there is no inductance; undefined for an impossible input.
 */
export function circulatingRipple(dcVoltage: number, switchingFrequency: number, loop: number): number | undefined {
  if (!(dcVoltage > 0 && switchingFrequency > 0 && loop >= 0)) return undefined;
  return dcVoltage / (2 * switchingFrequency * loop);
}
