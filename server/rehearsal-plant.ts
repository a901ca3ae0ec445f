// The plant of the rehearsal: small, and with a bit of everything that authors write.

export const rehearsalPlant = `## Lifts a rope's start peaks off a weak line.
plant SummitStation {
  altitude = 1840 m
  ambient = 5 °C .. 35 °C assumed "heated room"
  follows = Habits
}

practice Habits { control_margin = 8 %, converter_loading = 100 %, transformer_spare = 5 % }

let peak = 310 kW

grid LINE {
  voltage = 400 V ± 10 % from "connection agreement"
  frequency = 50 Hz ± 1 %
  fault_power = 18 MVA .. 26 MVA
  x_over_r = 5
}

cable WA { length = 32 m, cross_section = 240 mm², parallel = 8, conductor = copper }

transformer T {
  rated_power = 1000 kVA
  primary_voltage = 400 V
  secondary_voltage = 360 V
  impedance = 6.0 % ± 10 %
  load_loss = 11.6 kW from "routine test"
  no_load_loss = 1600 W
}

bus N { voltage = 360 V }

part battery Cells {
  chemistry = lfp
  cells_in_series = 224
  capacity = 280 Ah
  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }
  voltage_limits = 2.80 V .. 3.60 V per cell
  resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω } from "type test"
  discharge_current = 280 A
  charge_current = curve temperature smooth { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }
}
${[1].map(branch).join('')}
connect LINE -> WA -> T -> N
connect N -> F1 -> K1 -> WB1 -> B1

duty start { discharge = peak for 40 min, power_factor = 0.96, at = LINE }
duty braking { charge = 190 kW for 90 s every 15 min, power_factor = 0.97, at = LINE }

case winter { B1.temperature = 15.5 °C }
case worn {
  B1.state_of_health = 82 %
  B1.resistance = 1.4 * B1.resistance
}

require K1.loading <= 98 % because "a second rope may follow"
require T.loading <= 96 %
`;

function branch(number: number): string {
  return `
filter F${number} {
  converter_inductance = 100 µH
  capacitance = 300 µF  # per phase, star
  damping_resistance = 60 mΩ
}

converter K${number} {
  ac_current = 850 A from "data sheet"
  dc_voltage = 550 V .. 850 V
  switching_frequency = 4.0 kHz
  price = 42_500 EUR
}

cable WB${number} { length = 12 m, cross_section = 185 mm², parallel = 2, conductor = copper }

battery B${number} is Cells {
  strings = 4
  soc = 10 % .. 90 %
  lowest_connected = 0 %
  temperature = 22 °C
}
`;
}
