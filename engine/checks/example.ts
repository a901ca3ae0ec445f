// The sound plant on which every check shows its own mistake: with it unchanged, no check says error or warning.

/** Invented: the mountain station of a cableway. Each line that a check's bad example replaces stands here once. */
export const soundExample = `plant MountainStation {
  altitude = 900 m
  ambient = 5 °C .. 40 °C
  follows = HouseRules
}

practice HouseRules {
  transformer_spare = 5 %
}

grid MAIN {
  voltage = 400 V ± 10 %
  frequency = 50 Hz ± 1 %
  fault_power = 9 MVA .. 14 MVA
  x_over_r = 5
}

transformer T1 {
  rated_power = 500 kVA
  primary_voltage = 400 V
  secondary_voltage = 360 V
  impedance = 6 % ± 10 %
  load_loss = 5.8 kW
  no_load_loss = 800 W
}

filter F1 {
  converter_inductance = 100 µH
  capacitance = 300 µF
  damping_resistance = 60 mΩ
}

converter K1 {
  ac_current = 850 A
  dc_voltage = 550 V .. 850 V
  switching_frequency = 4 kHz
}

battery B1 {
  cells_in_series = 224
  strings = 4
  capacity = 280 Ah
  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }
  voltage_limits = 2.80 V .. 3.60 V per cell
  resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }
  soc = 10 % .. 90 %
  lowest_connected = 0 %
  discharge_current = 280 A
  charge_current = curve temperature { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }
  temperature = 20 °C
}

connect MAIN -> T1 -> F1 -> K1 -> B1

duty start_peak { discharge = 400 kW for 45 min, power_factor = 0.95 }
duty braking { charge = 250 kW for 90 s every 15 min }

require T1.loading <= 95 %
`;
