// The terminal as the commands see it: where text goes, whether it may be coloured, and where they were started.

export interface Terminal {
  readonly folder: string;
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly style: Style;
}

export type Colour = 'red' | 'yellow' | 'blue' | 'grey';

export interface Style {
  readonly bold: (text: string) => string;
  readonly colour: (colour: Colour, text: string) => string;
}

/** 0: clean; 1: errors were found; 2: it could not run. */
export type ExitCode = 0 | 1 | 2;

const codeOf: Readonly<Record<Colour, number>> = { red: 31, yellow: 33, blue: 34, grey: 90 };

export const plainStyle: Style = { bold: text => text, colour: (_, text) => text };

const colouredStyle: Style = {
  bold: text => `\u001b[1m${text}\u001b[22m`,
  colour: (colour, text) => `\u001b[${codeOf[colour]}m${text}\u001b[39m`,
};

/** The terminal of this process, and whether all that was said has gone out. */
export function processTerminal(): Terminal & { readonly isWritten: () => boolean } {
  let complained = false;
  // Whoever reads may stop early, as `head` does: no reason to fail.
  process.stdout.on('error', () => {});
  const { NO_COLOR = '', TERM } = process.env;
  const coloured = process.stdout.isTTY === true && NO_COLOR === '' && TERM !== 'dumb';
  return {
    folder: process.cwd(),
    out: text => void process.stdout.write(text),
    err: text => {
      complained = true;
      process.stderr.write(text);
    },
    isWritten: () => process.stdout.writableLength === 0 && (!complained || process.stderr.writableLength === 0),
    style: coloured ? colouredStyle : plainStyle,
  };
}

/** Text from a file must not steer the terminal, nor begin a line of its own: control characters become visible ones. */
export function harmless(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very characters to keep out.
  return text.replace(/[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, '\ufffd');
}
