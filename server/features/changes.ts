// The change view: what the working text of a plant does to the results that it had in the last commit.
import type { AnalysisSettings, WorkspacePath } from '../../engine/analysis.ts';
import { comparisonOutput } from '../cli/reporters/compare-json.ts';
import { compareAsMarkdown } from '../cli/reporters/compare-markdown.ts';
import { compareSides } from '../compare/compare-sides.ts';
import type { FileText, Host } from '../host.ts';
import type { Sources } from '../sources.ts';

/** A page in Markdown. Whatever keeps it from being made is said on it. */
export async function changesPage(
  path: WorkspacePath,
  sources: Sources,
  committed: (path: WorkspacePath) => Promise<FileText>,
  settings: AnalysisSettings,
): Promise<string> {
  const sideOf = (name: string, read: Host['read']) => ({
    name,
    host: { read, listPlants: async () => [] },
    files: [path],
    show: (file: WorkspacePath) => file,
  });
  const before = sideOf('the last commit', committed);
  const after = sideOf('the working text', file => workingText(file, sources));
  const part = await compareSides(before, after, settings, true);
  const comparison = comparisonOutput({ before: before.name, after: after.name, ...part });
  return `# What changed since the last commit\n\n${compareAsMarkdown(comparison)}`;
}

/** What is open in the editor goes before what is on disk. */
async function workingText(path: WorkspacePath, sources: Sources): Promise<FileText> {
  const { state, lines } = await sources.load(path);
  return state.state === 'text' ? { state: 'text', text: lines.text } : state;
}
