// For looking at the product: opens a folder or file in the real editor, does a few things, takes a picture.
//
//   node test/host/try.mjs --folder client/starter --file first-draft.plant --problems --shot out.png
//
// Actions are done in the order in which they stand on the command line:
//   --go LINE[:COLUMN]   put the cursor there           --select TEXT      select the first occurrence of a text
//   --hover TEXT         rest the mouse on a text        --type TEXT        type it ("\n" is Enter, "\t" is Tab)
//   --keys "A B …"       press keys: "Control+Space Tab" --accept LABEL     take a suggestion by its label
//   --command TITLE      run a command of the palette    --problems         open the Problems panel
//   --wait MILLISECONDS  wait                            --shot FILE        take a picture (any number of times)
//   --print              print the file as it stands     --save             save the file
// Settings: --folder (default client/starter; with --in-place also a .code-workspace, which names several), --file,
//   --in-place (work on the folder itself, not on a copy),
//   --extension FOLDER, --vsix FILE, --size 1280x800, --scale 2, --theme LABEL, --keep (stay open until Ctrl+C),
//   --in-browser (the server as a worker), --strange (a folder that nobody trusts).
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { install } from './install.mjs';
import { readExtension, repositoryFolder, starterFolder } from './places.mjs';
import { copyWorkspace, openWorkbench } from './workbench.mjs';

const text = { type: 'string' };
const flag = { type: 'boolean' };
const actions = {
  go: text,
  select: text,
  hover: text,
  type: text,
  keys: text,
  accept: text,
  command: text,
  wait: text,
  shot: text,
  problems: flag,
  print: flag,
  save: flag,
};
const settings = {
  folder: text,
  file: text,
  extension: text,
  vsix: text,
  size: text,
  scale: text,
  theme: text,
  'in-place': flag,
  'in-browser': flag,
  strange: flag,
  keep: flag,
  help: flag,
};

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => process.exit(1));

const { values, tokens } = parseArgs({ options: { ...actions, ...settings }, tokens: true });
if (values.help) {
  const lines = readFileSync(new URL(import.meta.url), 'utf8').split('\n');
  console.log(
    lines
      .slice(
        0,
        lines.findIndex(line => !line.startsWith('//')),
      )
      .map(line => line.slice(3))
      .join('\n'),
  );
  process.exit(0);
}

install();
const extension = path.resolve(values.extension ?? repositoryFolder);
if (!values.vsix) readExtension(extension);
const source = path.resolve(values.folder ?? starterFolder);
const folder = values['in-place'] ? source : copyWorkspace(source);
const [width, height] = (values.size ?? '1280x800').split('x').map(Number);
const editor = await openWorkbench({
  folder,
  file: values.file,
  extension,
  vsix: values.vsix,
  inBrowser: values['in-browser'],
  trust: !values.strange,
  width,
  height,
  scale: Number(values.scale ?? 1),
});
let failed = false;
try {
  // Findings come a moment after the text; the status bar tells when the extension has started.
  await editor.page.waitForTimeout(3000);
  if (values.theme) await chooseTheme(values.theme);
  for (const token of tokens) {
    if (token.kind === 'option' && token.name in actions) await act(token.name, token.value);
  }
  console.log('counts', JSON.stringify(await editor.counts()));
  if (editor.outside.size) console.log('asked outside for', [...editor.outside].join(' '));
  if (values.keep) await new Promise(() => setInterval(() => {}, 1000));
} catch (error) {
  failed = true;
  console.error(error.message);
  if (values.shot) {
    await editor.shot(values.shot);
    console.error(`The screen as it was then is in ${values.shot}`);
  }
} finally {
  await editor.close();
}
process.exit(failed ? 1 : 0);

async function act(name, value) {
  const { page } = editor;
  if (name === 'go') return editor.goTo(...value.split(':').map(Number));
  if (name === 'select') return editor.select(value);
  if (name === 'hover') return console.log(`hover "${value}":\n${await editor.hover(value)}`);
  if (name === 'type') return typeWithKeys(value);
  if (name === 'keys') return editor.press(...value.split(' ').filter(key => key));
  if (name === 'accept') return editor.accept(value);
  if (name === 'command') return editor.command(value);
  if (name === 'wait') return page.waitForTimeout(Number(value));
  if (name === 'problems') return showProblems();
  if (name === 'save') return editor.save();
  if (name === 'print') return printFile();
  await page.waitForTimeout(300);
  await editor.shot(value);
  console.log(`picture in ${value}`);
}

/** As a person does: this editor takes no notice of a theme that stands in its settings from the start. */
async function chooseTheme(label) {
  await editor.command('Preferences: Color Theme');
  await editor.page.waitForTimeout(500);
  await editor.type(label);
  await editor.press('Enter');
}

async function typeWithKeys(value) {
  for (const part of value.split(/(\\n|\\t)/)) {
    if (part === '\\n') await editor.press('Enter');
    else if (part === '\\t') await editor.press('Tab');
    else if (part) await editor.type(part);
  }
  await editor.page.waitForTimeout(500);
}

async function showProblems() {
  await editor.showProblems();
  await editor.page.waitForTimeout(500);
  const rows = await editor.page.locator('.markers-panel .monaco-list-row').allInnerTexts();
  console.log(
    `problems in view:\n${rows.map(row => `  ${row.replaceAll('\n', ' ').replaceAll('\u00a0', ' ')}`).join('\n')}`,
  );
}

async function printFile() {
  await editor.save();
  console.log(readFileSync(path.join(folder, values.file), 'utf8'));
}
