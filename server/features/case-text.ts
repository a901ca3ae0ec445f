// What a case states anew, with what it takes from the cases that it is made of, as written.
import type { CaseDeclaration, SourceTree } from '../../grammar/ast.ts';
import { codeSpan, escapeMarkdown } from './markdown.ts';

/** A case of a large plant restates each of its batteries. */
const mostStated = 12;

interface Placed {
  readonly node: CaseDeclaration;
  readonly start: number;
}

interface Stated {
  /** `B1.temperature`. */
  readonly target: string;
  readonly written: string;
  /** The case that says so. */
  readonly by: string;
}

/** Undefined where the file declares no case of this name. */
export function caseMarkdown(name: string, tree: SourceTree): string | undefined {
  const cases = casesIn(tree);
  const found = cases.get(name);
  if (found === undefined) return undefined;
  const { bases, doc } = found.node;
  const is = bases.length === 0 ? '' : ` is ${bases.map(({ text }) => text).join(', ')}`;
  const stated = [...statedBy(name, cases, tree.text, new Set()).values()];
  const rows = stated.slice(0, mostStated).map(({ written, by }) => {
    return `- ${codeSpan(written)}${by === name ? '' : ` (${escapeMarkdown(by)})`}`;
  });
  if (stated.length > mostStated) rows.push(`- and ${stated.length - mostStated} more`);
  return [`**${escapeMarkdown(`case ${name}${is}`)}**`, doc && escapeMarkdown(doc), rows.join('\n')]
    .filter(Boolean)
    .join('\n\n');
}

function casesIn({ chunks }: SourceTree): ReadonlyMap<string, Placed> {
  const cases = new Map<string, Placed>();
  for (const { chunk, start } of chunks) {
    const node = chunk.declaration;
    if (node?.type === 'case' && node.name !== undefined && !cases.has(node.name.text))
      cases.set(node.name.text, { node, start });
  }
  return cases;
}

/** By target; the case's own words count before those of its bases. Each case is `seen` once, so a circle ends. */
function statedBy(
  name: string,
  cases: ReadonlyMap<string, Placed>,
  text: string,
  seen: Set<string>,
): ReadonlyMap<string, Stated> {
  const found = cases.get(name);
  if (found === undefined || seen.has(name)) return new Map();
  seen.add(name);
  const { node, start } = found;
  const inherited = node.bases.flatMap(base => [...statedBy(base.text, cases, text, seen).values()]);
  const own = node.properties.map(property => ({
    target: property.target.map(part => part.text).join('.'),
    written: text.slice(start + property.start, start + property.end),
    by: name,
  }));
  const stated = new Map<string, Stated>();
  for (const one of [...inherited, ...own]) {
    stated.delete(one.target);
    stated.set(one.target, one);
  }
  return stated;
}
