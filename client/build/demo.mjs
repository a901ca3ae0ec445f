// What `npm start` shows after the build: the checker at work on the sample plants, in the terminal.
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const samples = 'client/starter';

console.log(`Wattwright reads the sample plants in ${samples} and checks them. This is:

  wattwright check ${samples}
`);
const options = ['dist/wattwright.cjs', 'check', samples];
const { status } = spawnSync(process.execPath, options, { cwd: root, stdio: 'inherit' });

// Exit code 1 only says that errors were found, and the draft among the samples is meant to have some.
if (status !== 0 && status !== 1) {
  console.error(`The check did not run (exit code ${status}).`);
  process.exit(1);
}
console.log(`
The sound plant shows no error; the draft shows what the checker finds, each on the line that causes it.
Try next, here in the checkout:

  npx wattwright values ${samples}/valley-station.plant
  npx wattwright explain ${samples}/valley-station.plant K1.current
  npx wattwright help

or "npm run package", and install the .vsix in the editor.`);
