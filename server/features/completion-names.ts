// Completion: the names of the plant and of what it uses.
import { codes, textCodes } from '../../engine/checks/codes.ts';
import { kindByName } from '../../engine/kinds/index.ts';
import type { Kind } from '../../engine/kinds/kind.ts';
import type { CompletionContext, Offer } from './completion.ts';
import { freeTag, namesGiven } from './free-tags.ts';
import { entitiesOf, type Visible, visibleFrom } from './symbols.ts';

/** Kinds that stand nowhere in the one-line. */
const noComponents: readonly string[] = ['plant', 'duty', 'practice'];

export function components({ path, tree }: CompletionContext): readonly Offer[] {
  return entitiesOf(path, tree)
    .filter(({ declaration }) => !noComponents.includes(declaration.kind.text))
    .map(({ declaration }) => offerComponent(declaration.name?.text, declaration.kind.text));
}

export function duties({ path, tree }: CompletionContext): readonly Offer[] {
  return entitiesOf(path, tree)
    .filter(({ declaration }) => declaration.kind.text === 'duty')
    .map(({ declaration }) => offerComponent(declaration.name?.text, 'duty'));
}

export function cases({ tree }: CompletionContext): readonly Offer[] {
  return tree.chunks.flatMap(({ chunk: { declaration } }) => {
    return declaration?.type === 'case' && declaration.name ? [offerComponent(declaration.name.text, 'case')] : [];
  });
}

/** Results of a component, with what each is at its worst point now. */
export function results(tag: string, { analysis }: CompletionContext): readonly Offer[] {
  if (analysis === undefined) return [];
  return analysis.values.namesOf(tag).map(name => {
    const row = analysis.values.worst(name);
    const known = row === undefined ? {} : { detail: row.display, markdown: row.meaning };
    return { label: name.slice(tag.length + 1), type: 'result', ...known };
  });
}

/** What this plant is really told comes first; hazards and mistakes in the text can't be accepted. */
export function acceptableCodes({ analysis }: CompletionContext): readonly Offer[] {
  const found = new Map(analysis?.findings.map(finding => [finding.code, finding]));
  return codes
    .filter(code => !textCodes.has(code) && found.get(code)?.hazard !== true)
    .toSorted((a, b) => Number(found.has(b)) - Number(found.has(a)))
    .map(code => {
      const finding = found.get(code);
      const known = finding === undefined ? {} : { detail: finding.subject ?? '', markdown: finding.message };
      return { label: code, type: 'code', ...known };
    });
}

export function lets(typed: readonly string[], context: CompletionContext): readonly Offer[] {
  return visible(context, typed)
    .filter(({ declared }) => declared.declaration.type === 'let')
    .map(({ written, declared }) => ({ label: withoutTyped(written, typed), type: 'value', detail: declared.path }));
}

export function functions(): readonly Offer[] {
  return ['min', 'max', 'abs', 'sqrt'].map(label => ({ label, type: 'function', text: `${label}($1)`, snippet: true }));
}

/** Parts, catalogues and their rows of a kind, behind what is typed of their path. */
export function partsFor(kind: Kind, typed: readonly string[], context: CompletionContext): readonly Offer[] {
  return visible(context, []).flatMap(({ written, declared: { declaration, path } }): readonly Offer[] => {
    if (declaration.type === 'let' || declaration.kind?.text !== kind.name) return [];
    const rows = declaration.type === 'catalogue' ? declaration.rows.map(row => `${written}.${row.name.text}`) : [];
    const doc = declaration.doc === undefined ? {} : { markdown: declaration.doc };
    return [written, ...rows]
      .filter(name => name.startsWith(typedPrefix(typed)))
      .map(name => ({ label: withoutTyped(name, typed), type: 'part', detail: path, ...doc }));
  });
}

/** Whole declarations that begin with one of the team's own parts. */
export function partsToStartFrom(context: CompletionContext): readonly Offer[] {
  const taken = namesGiven(context.tree);
  return visible(context, []).flatMap(({ written, declared: { declaration, path } }): readonly Offer[] => {
    if (declaration.type === 'let' || declaration.kind === undefined || declaration.kind.text === 'practice') return [];
    const [kind, pick] = [declaration.kind.text, declaration.type === 'catalogue' ? 'pick ' : ''];
    const tag = freeTag(kindByName.get(kind)?.snippet ?? '', taken) || 'TAG';
    const text = `${kind} \${1:${tag}} is ${pick}${written}`;
    return [{ label: `${kind} is ${pick}${written}`, type: 'snippet', text, snippet: true, detail: path }];
  });
}

function visible({ path, tree, closure }: CompletionContext, typed: readonly string[]): readonly Visible[] {
  const prefix = typedPrefix(typed);
  return visibleFrom(path, tree, closure).filter(({ written, declared }) => {
    return declared.declaration.name !== undefined && written.startsWith(prefix);
  });
}

function typedPrefix(typed: readonly string[]): string {
  return typed.map(name => `${name}.`).join('');
}

function withoutTyped(written: string, typed: readonly string[]): string {
  return written.slice(typedPrefix(typed).length);
}

function offerComponent(label: string | undefined, detail: string): Offer {
  return { label: label ?? '', type: 'component', detail };
}
