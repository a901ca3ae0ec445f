// The command `version`.
import type { Command } from '../command.ts';

/** Put in by the build, from package.json. */
declare const WATTWRIGHT_VERSION: string;

export const version: Command = {
  name: 'version',
  summary: 'prints the version',
  operands: '',
  leastOperands: 0,
  mostOperands: 0,
  options: {},
  details: 'Also: wattwright --version.',
  run: async (_, terminal) => {
    terminal.out(`wattwright ${WATTWRIGHT_VERSION}\n`);
    return 0;
  },
};
