// The command `format`: the one layout, written into the files or only asked for.
import path from 'node:path';
import { createNodeHost, writeText } from '../../node-host.ts';
import type { Command } from '../command.ts';
import { displayPath, findTargets, type TargetGroup } from '../targets.ts';
import type { ExitCode, Terminal } from '../terminal.ts';

export const format: Command = {
  name: 'format',
  summary: 'brings .plant files into the one layout',
  operands: '[PATH…]',
  leastOperands: 0,
  mostOperands: Number.POSITIVE_INFINITY,
  options: { check: { meaning: 'write nothing; list the files that differ, exit code 1 if there are any' } },
  details: `Paths are files or folders as for "check". Only blanks and the spelling of signs change, never what is said; a part
of the text that can't be understood stays as it is. With --check nothing is written.`,
  run: async ({ operands, switches }, terminal) => {
    const targets = await findTargets(operands, terminal);
    if (!targets.ok) {
      terminal.err(`${targets.message}\n`);
      return 2;
    }
    const outcomes: Outcome[] = [];
    for (const group of targets.groups) outcomes.push(...(await formatGroup(group, switches.has('check'), terminal)));
    return sumUp(outcomes, switches.has('check'), terminal);
  },
};

type Outcome = 'same' | 'changed' | 'failed';

async function formatGroup({ root, files }: TargetGroup, onlyCheck: boolean, terminal: Terminal): Promise<Outcome[]> {
  const { formatText } = await import('../../../grammar/print.ts');
  const host = createNodeHost(root);
  const outcomes: Outcome[] = [];
  for (const file of files) {
    const shown = displayPath(root, file, terminal);
    const read = await host.read(file);
    if (read.state !== 'text') {
      const reason = read.state === 'unreadable' ? read.reason : 'it leads out of the workspace';
      terminal.err(`"${shown}" could not be read: ${reason}.\n`);
      outcomes.push('failed');
      continue;
    }
    const formatted = formatText(read.text);
    const changed = formatted !== read.text;
    const problem = changed && !onlyCheck ? await writeText(path.join(root, file), formatted) : undefined;
    if (problem !== undefined) terminal.err(`"${shown}" could not be written: ${problem}.\n`);
    else if (changed) terminal.out(`${shown}\n`);
    outcomes.push(problem !== undefined ? 'failed' : changed ? 'changed' : 'same');
  }
  return outcomes;
}

function sumUp(outcomes: readonly Outcome[], onlyCheck: boolean, terminal: Terminal): ExitCode {
  const changed = outcomes.filter(outcome => outcome === 'changed').length;
  const verb = onlyCheck ? 'differ from the layout' : 'brought into the layout';
  terminal.out(`${changed} of ${outcomes.length} files ${verb}.\n`);
  if (outcomes.includes('failed')) return 2;
  return onlyCheck && changed > 0 ? 1 : 0;
}
