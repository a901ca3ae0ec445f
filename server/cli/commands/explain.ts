// The command `explain`: one value's derivation, down to the facts that somebody stated.
import { derivationTree } from '../../derivation-tree.ts';
import type { Command } from '../command.ts';
import { loadPlant, noSuchValue } from '../one-plant.ts';
import { shownPlace } from '../report.ts';
import { explainAsText } from '../reporters/explain.ts';
import { displayPath } from '../targets.ts';

export const explain: Command = {
  name: 'explain',
  summary: 'shows how one number came about, down to the stated facts',
  operands: 'FILE NAME',
  leastOperands: 2,
  mostOperands: 2,
  options: {},
  details: `NAME is a value such as K1.current; "wattwright values FILE" lists them.
What is used in several places is shown in full where it appears first.`,
  run: async ({ operands: [file = '', name = ''] }, terminal) => {
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
