// The command `explain`: one value's derivation, down to the facts that somebody stated, or what a finding's code means.
import { derivationTree } from '../../derivation-tree.ts';
import { didYouMean, usage } from '../arguments.ts';
import type { Command } from '../command.ts';
import { loadPlant, noSuchValue } from '../one-plant.ts';
import { shownPlace } from '../report.ts';
import { explainAsText } from '../reporters/explain.ts';
import { pageAsText } from '../reporters/page.ts';
import { displayPath } from '../targets.ts';
import type { ExitCode, Terminal } from '../terminal.ts';

export const explain: Command = {
  name: 'explain',
  summary: 'shows how one number came about, down to the stated facts, or what a code means',
  operands: 'FILE NAME | CODE',
  leastOperands: 1,
  mostOperands: 2,
  options: {},
  details: `NAME is a value such as K1.current; "wattwright values FILE" lists them.
What is used in several places is shown in full where it appears first.
CODE is what stands in brackets in front of a finding, such as cable_drop: why it matters, what to do, where the limit
comes from, and an example.`,
  run: async ({ operands: [file = '', name] }, terminal) => {
    if (name === undefined) return explainCode(file, terminal);
    const one = await loadPlant(file, terminal);
    if (!one.ok) {
      terminal.err(`${one.message}\n`);
      return 2;
    }
    const { loaded } = one;
    const worst = loaded.analysis.values.worst(name);
    const tree = worst && derivationTree({ name, point: worst.point }, loaded.analysis);
    if (tree === undefined) {
      terminal.err(`${noSuchValue(name, loaded.analysis)}\n`);
      return 2;
    }
    const show = (path: string) => displayPath(loaded.root, path, terminal);
    terminal.out(explainAsText(tree, place => shownPlace(place, { linesOf: loaded.linesOf, show }), terminal.style));
    return 0;
  },
};

async function explainCode(word: string, terminal: Terminal): Promise<ExitCode> {
  const [{ codes }, { findingPage, referencePage }] = await Promise.all([
    import('../../../engine/checks/codes.ts'),
    import('../../render/reference.ts'),
  ]);
  const text = codes.some(code => code === word) ? referencePage(findingPage(word)) : undefined;
  if (text !== undefined) {
    terminal.out(pageAsText(text, terminal.style));
    return 0;
  }
  const problem = /[./\\]/.test(word)
    ? `Something is missing: ${usage(explain)}`
    : `There is no code "${word}".${didYouMean(word, codes)}`;
  terminal.err(`${problem}\n"wattwright help explain" tells more.\n`);
  return 2;
}
