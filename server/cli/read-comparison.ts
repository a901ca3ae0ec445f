// Reads a comparison that was written as JSON, perhaps by somebody who is not to be trusted: it must be exactly what the
// schema says, and is only ever shown as text.
import * as z from 'zod/mini';
import type { Answer } from '../git.ts';
import { readText } from '../node-host.ts';
import { type CompareOutput, compareOutput } from './schemas.ts';

export async function readComparison(file: string, written: string): Promise<Answer<CompareOutput>> {
  const read = await readText(file);
  if (read.state !== 'text') {
    const reason = read.state === 'unreadable' ? read.reason : 'it is not there';
    return { ok: false, message: `"${written}" could not be read: ${reason}.` };
  }
  const parsed = z.safeParse(compareOutput, parsedJson(read.text));
  if (parsed.success) return { ok: true, value: parsed.data };
  const [issue] = parsed.error.issues;
  const where = issue === undefined || issue.path.length === 0 ? '' : ` (at ${issue.path.map(String).join('.')})`;
  return { ok: false, message: `"${written}" is no comparison of this version${where}.` };
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
