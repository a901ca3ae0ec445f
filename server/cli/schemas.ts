// The machine-readable output, as schemas: the reporters are typed by them, the tests validate with them, and the build
// publishes them as JSON Schema. Only types of this file reach the command itself, so that it starts without zod.
import * as z from 'zod/mini';

/** Raised when a reader of the old form could misread the new one; new fields alone don't raise it. */
export const outputVersion = 1;

const position = z.strictObject({ line: z.int().check(z.positive()), column: z.int().check(z.positive()) });
const range = z.strictObject({ start: position, end: position });
const text = z.string();
const maybeText = z.nullable(text);

const point = z.strictObject({
  case: maybeText,
  duty: maybeText,
  voltage: z.nullable(z.enum(['low', 'nominal', 'high'])),
  soc: z.nullable(z.number()),
  direction: z.nullable(z.enum(['delivering', 'absorbing'])),
});

/** `value` is in SI, a ratio as a plain number, null where it has no end; `display` is how a person reads it. */
const judged = z.strictObject({ name: maybeText, value: z.nullable(z.number()), display: text });

const severity = z.enum(['error', 'warning', 'note', 'hint']);

/** `fingerprint` stays the same while lines move and values change; `accepted` says what an acceptance has turned down. */
const finding = z.strictObject({
  code: text,
  severity,
  hazard: z.boolean(),
  message: text,
  fingerprint: text,
  accepted: z.nullable(z.strictObject({ code: text, severity, until: maybeText, because: maybeText })),
  subject: maybeText,
  range,
  point: z.nullable(point),
  limit: z.nullable(judged),
  value: z.nullable(judged),
  source: maybeText,
  related: z.array(z.strictObject({ path: text, range, message: text })),
  fixes: z.array(
    z.strictObject({
      title: text,
      safe: z.boolean(),
      edits: z.array(z.strictObject({ path: text, range, text })),
    }),
  ),
});

/** One entry a file: plants by their name, parts with `plant: null`. `known` counts what the baseline has left out. */
export const checkOutput = z.strictObject({
  version: z.literal(outputVersion),
  plants: z.array(
    z.strictObject({ path: text, plant: maybeText, findings: z.array(finding), notChecked: z.array(text) }),
  ),
  counts: z.strictObject({
    errors: z.int(),
    warnings: z.int(),
    notes: z.int(),
    hints: z.int(),
  }),
  known: z.int(),
  remarks: z.array(text),
});
export type CheckOutput = z.infer<typeof checkOutput>;

/** What binds a value: a word for programs, and words for people. */
const bindingLimit = z.strictObject({ name: text, text });

/** A course over the state of charge, cut where another limit binds; values in the unit of the row, soc as a ratio. */
const stretch = z.strictObject({
  from: z.number(),
  to: z.number(),
  limit: bindingLimit,
  points: z.array(z.strictObject({ soc: z.number(), value: z.nullable(z.number()) })),
  display: text,
});

/** A value that can't be computed or has no end is null; its display says which. */
const derivedValue = z.strictObject({
  name: text,
  value: z.nullable(z.number()),
  unit: text,
  display: text,
  point,
  formula: text,
  source: text,
  limit: z.optional(bindingLimit),
  stretches: z.optional(z.array(stretch)),
  inputs: z.array(
    z.strictObject({
      name: text,
      value: z.nullable(z.number()),
      unit: text,
      display: text,
      kind: z.enum(['fact', 'value', 'constant']),
      provenance: maybeText,
    }),
  ),
});

/**
 * What a converter can do: at each network voltage (V) the outline of active and reactive power (W and var, delivered at
 * the connection point), counterclockwise; a point's limit binds up to the next one. Without points, `empty` says why.
 */
const capability = z.strictObject({
  name: text,
  case: maybeText,
  outlines: z.array(
    z.strictObject({
      voltage: z.enum(['low', 'nominal', 'high']),
      networkVoltage: z.number(),
      points: z.array(z.strictObject({ active: z.number(), reactive: z.number(), limit: text })),
      empty: maybeText,
    }),
  ),
});

/** Capabilities are there only where one is asked for by its name, such as K1.capability. */
export const valuesOutput = z.strictObject({
  version: z.literal(outputVersion),
  plant: text,
  values: z.array(derivedValue),
  capabilities: z.optional(z.array(capability)),
});
export type ValuesOutput = z.infer<typeof valuesOutput>;

/** What was agreed to across the workspace: `check --accepted`. */
export const acceptedOutput = z.strictObject({
  version: z.literal(outputVersion),
  accepted: z.array(
    z.strictObject({
      path: text,
      range,
      plant: text,
      code: text,
      subject: text,
      bound: maybeText,
      until: maybeText,
      because: maybeText,
      state: z.enum(['in force', 'expired', 'exceeded', 'unused']),
    }),
  ),
});
export type AcceptedOutput = z.infer<typeof acceptedOutput>;

const counts = z.strictObject({ errors: z.int(), warnings: z.int(), notes: z.int(), hints: z.int() });

const valueSide = z.nullable(z.strictObject({ value: z.nullable(z.number()), display: text, point }));
const factSide = z.nullable(z.strictObject({ display: text, provenance: text }));

/** A finding in short: `line` is that of the version in which it stands. */
const comparedFinding = z.strictObject({
  code: text,
  severity,
  hazard: z.boolean(),
  accepted: z.boolean(),
  message: text,
  subject: maybeText,
  line: z.int().check(z.positive()),
});

const loneFile = z.strictObject({ path: text, plant: maybeText, counts, findings: z.array(comparedFinding) });

/** `change` is relative; `trend` says whether a result moved towards its limit; `none` where nothing judges it. */
const comparedFile = z.strictObject({
  path: text,
  movedFrom: maybeText,
  plant: maybeText,
  counts,
  renamed: z.array(z.strictObject({ before: text, after: text, evidence: text })),
  values: z.array(
    z.strictObject({
      name: text,
      meaning: text,
      unit: text,
      before: valueSide,
      after: valueSide,
      change: z.nullable(z.number()),
      trend: z.enum(['towards', 'away', 'none']),
      limit: maybeText,
    }),
  ),
  elsewhere: z.int(),
  still: z.int(),
  facts: z.array(
    z.strictObject({
      name: text,
      case: maybeText,
      before: factSide,
      after: factSide,
      what: z.enum(['value', 'provenance']),
    }),
  ),
  picks: z.array(z.strictObject({ name: text, before: maybeText, after: maybeText })),
  statements: z.array(z.strictObject({ what: z.enum(['new', 'gone']), text })),
  findings: z.strictObject({
    new: z.array(comparedFinding),
    gone: z.array(comparedFinding),
    changed: z.array(z.strictObject({ before: comparedFinding, after: comparedFinding })),
    unchanged: z.int(),
  }),
  doubts: z.array(text),
});

/** What a change does to the results: `compare`. */
export const compareOutput = z.strictObject({
  version: z.literal(outputVersion),
  before: text,
  after: text,
  worse: z.boolean(),
  changed: z.array(comparedFile),
  added: z.array(loneFile),
  removed: z.array(loneFile),
  unchanged: z.int(),
  problems: z.array(text),
  remarks: z.array(text),
});
export type CompareOutput = z.infer<typeof compareOutput>;

/** By the name of the output: whose form, and which version of it. */
const outputs = {
  check: { schema: checkOutput, description: 'Findings of plants and parts: `wattwright check --format json`.' },
  accepted: { schema: acceptedOutput, description: 'What was agreed to: `wattwright check --accepted --format json`.' },
  values: { schema: valuesOutput, description: 'Derived values of a plant: `wattwright values --format json`.' },
  compare: { schema: compareOutput, description: 'What a change does: `wattwright compare --format json`.' },
} as const;

export const outputVersions: Readonly<Record<string, number>> = Object.fromEntries(
  Object.keys(outputs).map(name => [name, outputVersion]),
);

/**
 * JSON Schema by the name of the output. It forbids no members that it does not name: a later version of the tool may
 * add some, and whoever reads the output must not stumble over them.
 */
export function publishedSchemas(): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(outputs).map(([name, { schema, description }]) => {
      const open: unknown = JSON.parse(JSON.stringify(z.toJSONSchema(schema)), withoutClosing);
      return [name, { title: `Wattwright ${name}`, description, ...(open as object) }];
    }),
  );
}

function withoutClosing(key: string, value: unknown): unknown {
  return key === 'additionalProperties' && value === false ? undefined : value;
}
