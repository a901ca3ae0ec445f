// The command `lsp`: the language server for any editor that speaks the protocol.
import type { Command } from '../command.ts';

declare const require: (file: string) => unknown;

export const lsp: Command = {
  name: 'lsp',
  summary: 'runs the language server for an editor',
  operands: '',
  leastOperands: 0,
  mostOperands: 0,
  options: { stdio: { meaning: 'speak over standard input and output, which is the only way and may be left out' } },
  details: 'The editor starts it and ends it. It reads plants and parts, and writes nothing.',
  run: async () => {
    // A bundle of its own beside this one, loaded only here. It takes over until the editor ends it.
    require('./server.cjs');
    return new Promise(() => {});
  },
};
