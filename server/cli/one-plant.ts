// Reads the one plant that `values` and `explain` are about, or says why that is not possible.
import type { Analysis, Capability } from '../../engine/analysis.ts';
import { didYouMean } from './arguments.ts';
import type { Loaded } from './load.ts';
import { findTargets } from './targets.ts';
import type { Terminal } from './terminal.ts';

export type OnePlant =
  | { readonly ok: true; readonly loaded: Loaded; readonly plant: string }
  | { readonly ok: false; readonly message: string };

export async function loadPlant(word: string, terminal: Terminal): Promise<OnePlant> {
  const targets = await findTargets([word], terminal);
  if (!targets.ok) return targets;
  const [group] = targets.groups;
  if (group === undefined || group.files.length !== 1) return wrong(`"${word}" holds several files: name one of them.`);
  const { isUnreadable, loadAll } = await import('./load.ts');
  for await (const loaded of loadAll([group])) {
    if (isUnreadable(loaded)) return wrong(`"${word}" could not be read: ${loaded.reason}.`);
    const { plant } = loaded.analysis;
    if (plant === undefined) return wrong(`"${word}" holds no plant, so there is nothing to derive.`);
    return { ok: true, loaded, plant };
  }
  return wrong(`"${word}" could not be read.`);
}

/** The values of that name, or all of the component of that tag. */
export function namesFor(word: string, analysis: Analysis): readonly string[] {
  const { names } = analysis.values;
  return names.includes(word) ? [word] : names.filter(name => name.startsWith(`${word}.`));
}

/** What a converter can do, in every case, for a name such as K1.capability. */
export function capabilitiesFor(word: string, { values, outline }: Analysis): readonly Capability[] {
  if (!word.endsWith('.capability')) return [];
  const cases = outline.filter(({ kind }) => kind === 'case').map(({ name }) => name);
  return ['', ...cases].flatMap(name => values.capability(word.slice(0, -'.capability'.length), name) ?? []);
}

export function noSuchValue(word: string, analysis: Analysis): string {
  const { names } = analysis.values;
  const tags = new Set(names.map(name => name.slice(0, name.indexOf('.'))));
  const [tag = ''] = word.split('.');
  const ofTag = names.filter(name => name.startsWith(`${tag}.`)).map(name => name.slice(tag.length + 1));
  const hint =
    didYouMean(word, names) ||
    didYouMean(word, tags) ||
    (ofTag.length > 0 ? ` ${tag} has ${ofTag.join(', ')}.` : ` Values belong to ${[...tags].join(', ')}.`);
  return `There is no value "${word}".${hint}`;
}

function wrong(message: string): OnePlant {
  return { ok: false, message };
}
