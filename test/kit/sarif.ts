// SARIF as tests read it: validated against the published schema, then by the few names that they ask for.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);

/** As much of the validator as is used here. */
interface Validator {
  addMetaSchema(schema: object): void;
  compile(schema: object): ((value: unknown) => boolean) & { readonly errors?: unknown };
}
const Ajv: new (options: object) => Validator = require('ajv');

interface Place {
  readonly physicalLocation: {
    readonly artifactLocation: { readonly uri: string; readonly uriBaseId?: string };
    readonly region: { readonly startLine: number; readonly startColumn: number; readonly endColumn: number };
  };
  readonly message?: { readonly text: string };
}

export interface SarifResult {
  readonly ruleId: string;
  readonly level: string;
  readonly message: { readonly text: string };
  readonly locations: readonly Place[];
  readonly relatedLocations?: readonly Place[];
  readonly codeFlows?: readonly {
    readonly threadFlows: readonly { readonly locations: readonly { readonly location: Place }[] }[];
  }[];
  readonly fixes?: readonly { readonly description: { readonly text: string } }[];
  readonly suppressions?: readonly { readonly justification?: string }[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
  readonly properties: Readonly<Record<string, unknown>>;
}

export interface SarifRun {
  readonly tool: {
    readonly driver: { readonly rules: readonly { readonly id: string; readonly help: { readonly text: string } }[] };
  };
  readonly columnKind: string;
  readonly invocations: readonly {
    readonly toolExecutionNotifications: readonly { readonly message: { readonly text: string } }[];
  }[];
  readonly results: readonly SarifResult[];
}

/**
 * The only run of the text, which must be valid. The schema is the one that a package of its authors publishes: SARIF
 * 2.1.0 at revision 5 of the technical committee, whose names and types the approved standard kept.
 */
export function validRun(text: string): SarifRun {
  const log: unknown = JSON.parse(text);
  if (!isValid(log)) throw new Error(JSON.stringify(validate.errors, null, 2));
  const [run, ...others] = log.runs;
  if (run === undefined || others.length > 0) throw new Error(`${log.runs.length} runs where one was expected`);
  return run;
}

const ajv = new Ajv({ schemaId: 'auto', allErrors: true });
ajv.addMetaSchema(readJson('ajv/lib/refs/json-schema-draft-04.json'));
const validate = ajv.compile(readJson('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'));

function isValid(log: unknown): log is { readonly runs: readonly SarifRun[] } {
  return validate(log);
}

function readJson(file: string): object {
  return JSON.parse(readFileSync(require.resolve(file), 'utf8'));
}
