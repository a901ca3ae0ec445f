// The same kind of plant as data for the peers: JSON and YAML with a schema, TypeScript with types.
import { readDocument, remarks } from './document.mjs';
import { createRandom } from './random.mjs';

/** Properties with the number that stands in the document and its bounds, by kind of component. */
const kinds = {
  grid: {
    voltage: [400, 1, 1000],
    frequency: [50, 16, 400],
    fault_power: [11010, 1, 900000],
    x_over_r: [510, 1, 9000],
  },
  transformer: {
    rated_power: [500, 1, 9000],
    primary_voltage: [400, 1, 999],
    secondary_voltage: [360, 1, 999],
    impedance: [610, 1, 5000],
    load_loss: [5800, 1, 90000],
    no_load_loss: [810, 1, 90000],
  },
  filter: { converter_inductance: [110, 1, 9000], capacitance: [310, 1, 9000], damping_resistance: [60, 1, 9000] },
  converter: { ac_current: [850, 1, 9000], dc_voltage: [860, 1, 9000], switching_frequency: [4010, 1, 90000] },
  cable: { length: [35, 1, 999], cross_section: [240, 1, 999], parallel: [14, 1, 99] },
  battery: {
    cells_in_series: [224, 1, 999],
    strings: [14, 1, 99],
    capacity: [280, 1, 9000],
    resistance: [140, 1, 9000],
  },
};
const kindNames = Object.keys(kinds);
/** Allowed in every component and stated in none: what completion has to offer. */
const spare = ['noise_level', 'nominal_life', 'nameplate'];

/** Components until the document has as many lines; `print` gives the lines of one, `comment` is the comment sign. */
function components(size, seed, print, around, comment) {
  const random = createRandom(seed * 104729 + size);
  const lines = [];
  for (let index = 0; ; index++) {
    const kind = kindNames[index % kindNames.length];
    const block = print(`${kind}_${index + 1}`, kind, index);
    const remark = comment === undefined || index % 2 === 0 ? [] : remarks(random, 1, comment);
    const length = [...remark, ...block].filter(line => line.trim() !== '¦').length;
    if (lines.filter(line => line.trim() !== '¦').length + length > size - around) return lines;
    lines.push(...remark, ...block);
  }
}

export function jsonDocument(size, seed = 1) {
  const print = (tag, kind) => [
    `    "‹${tag}›": {`,
    '¦',
    `      "kind": "${kind}",`,
    `      "note": "as ordered",`,
    ...Object.entries(kinds[kind]).map(([name, [value]], index, all) => {
      return `      "${name}": «${value}»${index < all.length - 1 ? ',' : ''}`;
    }),
    '    },',
  ];
  const body = components(size, seed, print, 7);
  const head = ['{', '  "$schema": "./plant.schema.json",', '  "title": "Cableway station",', '  "components": {'];
  return readDocument([...head, ...body.with(-1, '    }'), '  }', '}', ''].join('\n'));
}

export function yamlDocument(size, seed = 1) {
  const print = (tag, kind) => [
    `  ‹${tag}›:`,
    '¦',
    `    kind: ${kind}`,
    `    note: as ordered`,
    ...Object.entries(kinds[kind]).map(([name, [value]]) => `    ${name}: «${value}»`),
  ];
  const head = ['# yaml-language-server: $schema=./plant.schema.json', 'title: Cableway station', 'components:'];
  return readDocument([...head, ...components(size, seed, print, 3, '  # '), ''].join('\n'));
}

export function typeScriptDocument(size, seed = 1) {
  const print = (tag, kind) => [
    `export const ‹${tag}›: ${typeName(kind)} = {`,
    '¦',
    `  kind: '${kind}',`,
    `  note: 'as ordered',`,
    ...Object.entries(kinds[kind]).map(([name, [value]]) => `  ${name}: «${value}»,`),
    '};',
  ];
  const imports = `import type { ${kindNames.map(typeName).join(', ')} } from './plant-types';`;
  return readDocument([imports, '', ...components(size, seed, print, 2, '// '), ''].join('\n'));
}

const typeName = kind => kind[0].toUpperCase() + kind.slice(1);

/** The files beside the documents: schema, types, project. */
export const companions = {
  'plant.schema.json': JSON.stringify(schema(), null, 2),
  'plant-types.ts': types(),
  'tsconfig.json': JSON.stringify({
    compilerOptions: { strict: true, noEmit: true, target: 'es2022', module: 'esnext', types: [] },
    files: ['plant-types.ts'],
  }),
};

function schema() {
  const variants = Object.entries(kinds).map(([kind, properties]) => ({
    if: { properties: { kind: { const: kind } } },
    // biome-ignore lint/suspicious/noThenProperty: the schema's own word
    then: {
      properties: {
        kind: true,
        note: true,
        ...Object.fromEntries(spare.map(name => [name, true])),
        ...Object.fromEntries(
          Object.entries(properties).map(([name, [, minimum, maximum]]) => {
            return [name, { type: 'number', minimum, maximum, description: `The ${name} of a ${kind}.` }];
          }),
        ),
      },
      required: Object.keys(properties),
      additionalProperties: false,
    },
  }));
  const component = {
    type: 'object',
    description: 'A component of the plant.',
    properties: {
      kind: { enum: kindNames },
      note: { type: 'string' },
      ...Object.fromEntries(spare.map(name => [name, { type: 'number', description: `The ${name}.` }])),
    },
    required: ['kind'],
    allOf: variants,
  };
  return {
    $schema: 'http://json-schema.org/draft-07/schema#',
    type: 'object',
    properties: {
      $schema: { type: 'string' },
      title: { type: 'string' },
      components: { type: 'object', additionalProperties: component },
    },
    required: ['components'],
    additionalProperties: false,
  };
}

function types() {
  return Object.entries(kinds)
    .map(([kind, properties]) => {
      const fields = [
        `readonly kind: '${kind}';`,
        'readonly note?: string;',
        ...spare.map(name => `/** The ${name}. */ readonly ${name}?: number;`),
        ...Object.keys(properties).map(name => `/** The ${name} of a ${kind}. */ readonly ${name}: number;`),
      ];
      return `/** A ${kind} of the plant. */\nexport interface ${typeName(kind)} {\n  ${fields.join('\n  ')}\n}`;
    })
    .join('\n\n');
}
