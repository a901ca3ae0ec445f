// The command line: finds the command, reads its options, runs it, and turns what happened into an exit code.
// Engine and grammar are imported by the commands when they run, so that a mistake in the options answers at once.
import { didYouMean, readArguments } from './arguments.ts';
import type { Command } from './command.ts';
import { check } from './commands/check.ts';
import { compare } from './commands/compare.ts';
import { explain } from './commands/explain.ts';
import { format } from './commands/format.ts';
import { commandHelp, help, overview } from './commands/help.ts';
import { lsp } from './commands/lsp.ts';
import { values } from './commands/values.ts';
import { version } from './commands/version.ts';
import { type ExitCode, processTerminal, type Terminal } from './terminal.ts';

const commands: readonly Command[] = [check, compare, values, explain, format, lsp, help, version];

async function main(words: readonly string[], terminal: Terminal): Promise<ExitCode> {
  const [word, ...rest] = words;
  if (word === undefined) return complain(terminal, overview(commands));
  if (word === '--version' || word === '-V') return version.run(nothingGiven, terminal);
  if (word === '--help' || word === '-h') return show(terminal, overview(commands));

  const command = commands.find(({ name }) => name === word);
  if (command === undefined) {
    const suggestion =
      didYouMean(
        word,
        commands.map(({ name }) => name),
      ) || ' "wattwright help" lists the commands.';
    return complain(terminal, `There is no command "${word}".${suggestion}\n`);
  }
  if (rest.includes('--help') || rest.includes('-h')) return show(terminal, commandHelp(command));
  if (command === help) return helpWith(rest, terminal);

  const reading = readArguments(command, rest);
  if (!reading.ok) return complain(terminal, `${reading.message}\n"wattwright help ${command.name}" tells more.\n`);
  return command.run(reading.given, terminal);
}

const nothingGiven = { operands: [], switches: new Set<string>(), values: new Map<string, string>() };

function helpWith(words: readonly string[], terminal: Terminal): ExitCode {
  const [word] = words;
  if (word === undefined) return show(terminal, overview(commands));
  const command = commands.find(({ name }) => name === word);
  if (command !== undefined) return show(terminal, commandHelp(command));
  return complain(
    terminal,
    `There is no command "${word}".${didYouMean(
      word,
      commands.map(({ name }) => name),
    )}\n`,
  );
}

function show(terminal: Terminal, text: string): ExitCode {
  terminal.out(text);
  return 0;
}

function complain(terminal: Terminal, text: string): ExitCode {
  terminal.err(text);
  return 2;
}

const terminal = processTerminal();
main(process.argv.slice(2), terminal).then(
  code => {
    process.exitCode = code;
    // At once: what the process holds need not be given back piece by piece.
    if (terminal.isWritten()) process.exit();
  },
  (error: unknown) => {
    const trace = error instanceof Error ? error.stack : String(error);
    terminal.err(`This is a mistake in wattwright itself, please report it:\n${trace}\n`);
    process.exitCode = 2;
  },
);
