// Generates plants in our language: an invented cableway's battery plant of about as many lines as asked for.
import { readDocument, remarks } from './document.mjs';
import { createRandom } from './random.mjs';

/**
 * What the documents of each size hold. Chains come two to a transformer, behind a bus that they share; each has a
 * filter, a converter, a cable and a battery of its own. Every duty is judged in every case and the base case.
 */
export const plantShapes = {
  100: { chains: 1, cases: 3, duties: 2, parts: 1, requirements: 2 },
  1000: { chains: 6, cases: 12, duties: 12, parts: 6, requirements: 24 },
  10000: { chains: 60, cases: 12, duties: 12, parts: 60, requirements: 120 },
};

/** The document of a size; another seed gives another plant of the same shape. */
export function plantDocument(size, seed = 1) {
  const random = createRandom(seed * 7919 + size);
  const shape = plantShapes[size];
  const blocks = [
    head(shape),
    ...times(shape.parts, index => part(index + 1, size, random)),
    ...times(Math.ceil(shape.chains / 2), index => feeder(index + 1, random)),
    ...times(shape.chains, index => chain(index + 1, shape, size, random)),
    connections(shape.chains),
    ...times(shape.duties, index => duty(index, shape, size, random)),
    ...times(shape.cases, index => plantCase(index, shape, random)),
    requirements(shape),
  ];
  return readDocument(fill(blocks, size, random).join('\n'));
}

/** One of many plants in a folder, which take their strings from a file that they share. */
export function fleetPlant(seed) {
  const random = createRandom(seed * 7919 + 1);
  const shape = { ...plantShapes[100], parts: 1 };
  const own = [
    'use "parts/strings.plant"',
    head(shape),
    feeder(1, random),
    chain(1, shape, 100, random),
    connections(1),
  ];
  const asked = times(shape.duties, index => duty(index, shape, 100, random));
  const cases = times(shape.cases, index => plantCase(index, shape, random));
  return readDocument(fill([...own, ...asked, ...cases, requirements(shape)], 100, random).join('\n')).text;
}

export const fleetParts = () => readDocument(part(1, 1000, createRandom(1))).text;

const times = (count, make) => Array.from({ length: count }, (_, index) => make(index));

function head({ chains }) {
  return `## Takes the start peaks of a cableway's stations off a weak connection.
plant CablewayStation {
  altitude = «1920» m
  ambient = 5 °C .. «38» °C assumed "heated and ventilated container"
  follows = HouseRules
}

practice HouseRules { control_margin = «10» %, converter_loading = 100 %, transformer_spare = 5 % }

let peak = ${chains} * «395» kW

grid MAIN {
  ‹voltage› = 400 V ± 10 % from "connection agreement, 4.2"
  frequency = 50 Hz ± 1 %
  fault_power = ${chains * 9}.«10» MVA .. ${chains * 14}.«10» MVA from "network owner's letter"
  x_over_r = 5.«10»
}`;
}

function part(number, size, random) {
  const small = size <= 100;
  return `## String type ${number}: 224 cells in series, 280 Ah.
part battery String${number} {
  chemistry = lfp
  cells_in_series = 224
  capacity = «280» Ah
${small ? shortVoltages : longVoltages(random)}
  voltage_limits = 2.80 V .. 3.60 V per cell
  resistance = curve temperature {
      0 °C  0.28«0» Ω
     15 °C  0.19«0» Ω
     25 °C  0.14«0» Ω
     45 °C  0.12«0» Ω
  } from "type test, table ${random.whole(1, 9)}"
  discharge_current = «280» A
  charge_current = curve temperature smooth { 0 °C 0 A, 10 °C 7«0» A, 25 °C 14«0» A, 45 °C 14«0» A }
}`;
}

const shortVoltages =
  '  open_circuit_voltage = curve soc per cell { 0 % 2.60 V, 10 % 3.20 V, 50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V }';

function longVoltages(random) {
  const points = [[0, 2.6], [5, 3.05], [10, 3.2], [20, 3.24], [30, 3.26], [40, 3.28], [50, 3.29], [60, 3.3]]; // biome-ignore format: a table
  const rest = [[70, 3.31], [80, 3.325], [90, 3.34], [95, 3.36], [100, 3.4]]; // biome-ignore format: a table
  const rows = [...points, ...rest].map(([soc, volts]) => {
    return `    ${String(soc).padStart(3)} %  ${volts.toFixed(3)}«${random.whole(1, 9)}» V`;
  });
  return `  open_circuit_voltage = curve soc per cell {\n${rows.join('\n')}\n  }`;
}

function feeder(number, random) {
  return `## Feeder ${number}: from the main board to the container.
cable WA${number} {
  length = «${random.whole(30, 38)}» m
  cross_section = 240 mm²
  parallel = 8
  conductor = copper
}

transformer ‹T${number}› {
  rated_power = 1_0«00» kVA
  primary_voltage = 400 V
  secondary_voltage = 360 V
  impedance = 6.«00» % ± 10 %
  load_loss = 11.«60» kW from "routine test"
  no_load_loss = «1600» W
¦
}

bus N${number} { voltage = 360 V }`;
}

function chain(number, { parts, chains }, size, random) {
  const single = chains === 1;
  return `${size <= 100 ? '' : '# --------------------------------------------------------------------------\n'}filter F${number} {
  converter_inductance = 10«0» µH
  capacitance = 30«0» µF           # per phase, star
  damping_resistance = «60» mΩ
}

## Forced air, container ${number}.
converter ‹K${number}› {
  ac_current = 85«0» A from "data sheet, page 3"
  dc_voltage = 550 V .. 85«0» V
  switching_frequency = 4.«0» kHz
  price = 42_5«00» EUR
}

cable WB${number} { length = «${random.whole(10, 14)}» m, cross_section = 185 mm², parallel = 2, conductor = copper }

battery ‹B${number}› is String${((number - 1) % parts) + 1} {
  strings = 4
  soc = 10 % .. «90» %
  lowest_connected = 0 %
  temperature = 2«2» °C
}${single ? '' : '\n'}`;
}

function connections(chains) {
  const feeders = times(
    Math.ceil(chains / 2),
    index => `connect MAIN -> WA${index + 1} -> T${index + 1} -> N${index + 1}`,
  );
  const branches = times(chains, index => {
    const [bus, own] = [Math.floor(index / 2) + 1, index + 1];
    return `connect N${bus} -> F${own} -> K${own} -> WB${own} -> B${own}`;
  });
  return [...feeders, ...branches].join('\n');
}

/** Discharges and charges in turn, of different power, for all chains together. */
function duty(index, { chains }, size, random) {
  const doc = `## Service ${index + 1} of the timetable.`;
  const power =
    index % 2 === 0
      ? `discharge = ${index === 0 ? 'peak' : `«${chains * random.whole(240, 380)}» kW`} for «${random.whole(20, 45)}» min`
      : `charge = «${chains * random.whole(150, 240)}» kW for «90» s every «15» min`;
  if (size <= 100) return `duty service${index + 1} { ${power}, power_factor = 0.9«6», at = MAIN }`;
  return `${doc}
duty service${index + 1} {
  ${power}
  ${index % 3 === 2 ? `reactive = «${chains * 60}» kvar` : 'power_factor = 0.9«6»'}
  at = MAIN
}`;
}

/** The base case's opposite numbers: cold, worn, and both, in steps. */
function plantCase(index, { chains, cases }, random) {
  if (index === cases - 1 && cases > 2) return 'case worst is situation1, situation2';
  const lines = times(chains, battery => {
    if (index % 2 === 0) return `  B${battery + 1}.temperature = 1${(index % 3) + 5}.«${random.whole(1, 9)}» °C`;
    return `  B${battery + 1}.state_of_health = 8«${random.whole(0, 9)}» %\n  B${battery + 1}.resistance = 1.«${random.whole(2, 4)}» * B${battery + 1}.resistance`;
  });
  return `case situation${index + 1} {\n${lines.join('\n')}\n}`;
}

function requirements({ requirements: count, chains }) {
  return times(count, index => {
    const chain = (index % chains) + 1;
    const which = Math.floor(index / chains) % 2;
    if (which === 0) return `require K${chain}.loading <= 9«8» % because "leave room for a second drive"`;
    return `require T${Math.ceil(chain / 2)}.loading <= 9«8» % # asked for by the customer`;
  }).join('\n');
}

/** Remarks between the blocks, so that the document has its size. */
function fill(blocks, size, random) {
  const lines = blocks.map(block => block.split('\n').filter(line => line.trim() !== '¦').length);
  const spare = size - lines.reduce((sum, count) => sum + count + 1, 0);
  if (spare < 0) throw new Error(`The plant of ${size} lines has ${-spare} lines too many.`);
  const each = Math.floor(spare / blocks.length);
  return blocks.flatMap((block, index) => {
    const count = each + (index < spare % blocks.length ? 1 : 0);
    return [...remarks(random, count, '# '), block, ''];
  });
}
