// The command `help`: the list of commands, or everything about one of them.
import { usage } from '../arguments.ts';
import type { Command, Option } from '../command.ts';

export const help: Command = {
  name: 'help',
  summary: 'tells more about a command',
  operands: '[COMMAND]',
  leastOperands: 0,
  mostOperands: 1,
  options: {},
  details: 'Without a command it lists all of them.',
  // The list of commands knows this one, so the answer is given where the list is.
  run: async () => 0,
};

export function overview(commands: readonly Command[]): string {
  const rows = commands.map(command => [usage(command).replace('wattwright ', ''), command.summary] as const);
  return `wattwright checks battery plants on AC networks, written as text in .plant files.

${table(rows)}

"wattwright help COMMAND" tells more. Exit code: 0 clean, 1 errors were found, 2 it could not run.

What it says supports, and never replaces, the judgement of a licensed engineer. Local codes, the makers'
instructions and the standards that apply come first. It checks what it names and nothing else.
`;
}

export function commandHelp(command: Command): string {
  const rows = Object.entries(command.options).map(
    ([name, option]) => [optionUsage(name, option), option.meaning] as const,
  );
  const options = rows.length === 0 ? '' : `\n${table(rows)}\n`;
  return `${usage(command)}\n  ${command.summary}\n\n${command.details}\n${options}`;
}

function optionUsage(name: string, { value }: Option): string {
  if (value === undefined) return `--${name}`;
  return `--${name} ${typeof value === 'string' ? value : value.join('|')}`;
}

function table(rows: readonly (readonly [string, string])[]): string {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`).join('\n');
}
