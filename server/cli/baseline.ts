// Reads what an earlier check has found, so that an old workspace can start with new findings only.
import { readText } from '../node-host.ts';

export type Baseline =
  | { readonly ok: true; readonly known: ReadonlySet<string> }
  | { readonly ok: false; readonly message: string };

/** The fingerprints in a file that `check --format json` has written. */
export async function readBaseline(file: string, written: string): Promise<Baseline> {
  const read = await readText(file);
  if (read.state === 'missing') return wrong(`There is no baseline "${written}".`);
  if (read.state !== 'text') {
    return wrong(
      `The baseline "${written}" could not be read${read.state === 'unreadable' ? `: ${read.reason}` : ''}.`,
    );
  }
  const known = fingerprintsIn(read.text);
  if (known === undefined) {
    return wrong(`"${written}" is no baseline: write one with "wattwright check --format json --output ${written}".`);
  }
  return { ok: true, known };
}

/** Undefined where the text is not the output of a check that knows fingerprints. */
function fingerprintsIn(text: string): ReadonlySet<string> | undefined {
  try {
    const plants = listIn(JSON.parse(text), 'plants');
    const findings = plants?.flatMap(plant => listIn(plant, 'findings') ?? []);
    const marks = findings?.map(finding => memberOf(finding, 'fingerprint'));
    if (marks === undefined || !marks.every(mark => typeof mark === 'string')) return undefined;
    return new Set(marks);
  } catch {
    return undefined;
  }
}

function listIn(value: unknown, name: string): readonly unknown[] | undefined {
  const list = memberOf(value, name);
  return Array.isArray(list) ? list : undefined;
}

function memberOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? Reflect.get(value, name) : undefined;
}

function wrong(message: string): Baseline {
  return { ok: false, message };
}
