// What a command of the command line is: its words for the help, its options, and what it does.
import type { ExitCode, Terminal } from './terminal.ts';

export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** `[PATH…]`. */
  readonly operands: string;
  readonly leastOperands: number;
  readonly mostOperands: number;
  readonly options: Readonly<Record<string, Option>>;
  /** Paragraphs for `help COMMAND`. */
  readonly details: string;
  run(given: Given, terminal: Terminal): Promise<ExitCode>;
}

export type Option = {
  readonly meaning: string;
  /** What follows it: a name for the help, or the words to choose from. Without it the option is a switch. */
  readonly value?: string | readonly string[];
};

/** What stood on the command line, already checked against the command's options. */
export interface Given {
  readonly operands: readonly string[];
  readonly switches: ReadonlySet<string>;
  readonly values: ReadonlyMap<string, string>;
}
