// Builds everything that runs outside this checkout into dist/: command, language server, extension, colouring grammar
// and the schemas of the machine-readable output.
import { isAscii } from 'node:buffer';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { chmod, mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const finished = path.join(root, 'dist');
/** Built beside and then put in place, so that a build that fails leaves the last one that worked. */
const dist = path.join(root, `dist.${process.pid}`);
const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));

const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  format: 'cjs',
  target: 'node22',
  minify: true,
  // Held in memory at one byte a character, which halves what a start reads and keeps.
  charset: 'ascii',
  plugins: [{ name: 'ascii', setup: ({ onLoad }) => onLoad({ filter: /\.ts$/, namespace: 'file' }, escaped) }],
  legalComments: 'none',
  define: { WATTWRIGHT_VERSION: JSON.stringify(version) },
  // Beside the bundles, and left out of the package by `files` in package.json.
  sourcemap: true,
  sourcesContent: false,
  logLevel: 'warning',
};

const parameters = '(function (exports, require, module, __filename, __dirname) {';

await mkdir(path.join(dist, 'schemas'), { recursive: true });
try {
  await Promise.all([bundleProduct().then(bundleStarts), bundleWeb(), writeGrammar(), writeSchemas()]);
  await rm(finished, { recursive: true, force: true });
  await rename(dist, finished);
} finally {
  await rm(dist, { recursive: true, force: true });
}

/** What an editor and a shell start: small, and the latter old-fashioned, so that an old Node can say that it is too old. */
async function bundleStarts() {
  const shell = { banner: { js: '#!/usr/bin/env node' }, target: 'node12' };
  await Promise.all([
    bundleStart('server', 'server/start.ts', { WATTWRIGHT_SERVER: await contentOf('server-main') }),
    bundleStart('wattwright', 'server/cli/start.ts', { WATTWRIGHT_CLI: await contentOf('cli') }, shell),
  ]);
  await chmod(path.join(dist, 'wattwright.cjs'), 0o755);
}

async function bundleStart(name, entry, define, more = {}) {
  await build({ ...common, entryPoints: [entry], outfile: path.join(dist, `${name}.cjs`), define, ...more });
}

/** Short for what a bundle holds. */
async function contentOf(name) {
  const hash = createHash('sha256').update(await readFile(path.join(dist, `${name}.cjs`)));
  return JSON.stringify(hash.digest('hex').slice(0, 16));
}

async function bundleProduct() {
  const options = { ...common, outdir: dist, outExtension: { '.js': '.cjs' } };
  // Their starts run them as this function: put together there, they would be in memory twice.
  const wrapped = { banner: { js: parameters }, footer: { js: '})' } };
  const started = { cli: 'server/cli/main.ts', 'server-main': 'server/main.ts' };
  // `./server.cjs` is loaded when `lsp` asks for it: it would triple the start-up time of every other command.
  await build({ ...options, ...wrapped, entryPoints: started, external: ['./server.cjs'] });
  await build({ ...options, entryPoints: { extension: 'client/src/extension.ts' }, external: ['vscode'] });
  for (const name of [...Object.keys(started), 'extension']) await mustBeAscii(path.join(dist, `${name}.cjs`));
}

/** For an editor in a browser: the server is a script of its own, which a worker runs. */
async function bundleWeb() {
  const options = { ...common, outdir: path.join(dist, 'web'), platform: 'browser', target: 'es2022' };
  await build({ ...options, entryPoints: { extension: 'client/src/extension-web.ts' }, external: ['vscode'] });
  await build({ ...options, entryPoints: { server: 'server/main-web.ts' }, format: 'iife' });
}

/** What esbuild leaves as it is: characters in regular expressions. Raw or behind a backslash they would become others. */
async function escaped({ path: file }) {
  const text = await readFile(file, 'utf8');
  const [other] = /(?:String\.raw`[^`]*|\\)[^\0-\x7f`]/.exec(text) ?? [];
  if (other !== undefined) throw new Error(`${file}: this can't be written in ASCII: ${other}`);
  const contents = text.replace(/[^\0-\x7f]/g, unit => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
  return { contents, loader: 'ts' };
}

/** The start reads it one byte a character. */
async function mustBeAscii(file) {
  if (!isAscii(await readFile(file))) throw new Error(`${file} holds other characters than ASCII`);
}

async function writeGrammar() {
  const { colourGrammar } = await load('grammar/textmate.ts');
  await writeJson('plant.tmLanguage.json', colourGrammar());
}

async function writeSchemas() {
  const { publishedSchemas } = await load('server/cli/schemas.ts');
  for (const [name, schema] of Object.entries(publishedSchemas())) await writeJson(`schemas/${name}.json`, schema);
}

async function writeJson(name, value) {
  await writeFile(path.join(dist, name), `${JSON.stringify(value, null, 2)}\n`);
}

/** Runs one of our TypeScript modules here and now, whatever this Node makes of TypeScript. */
async function load(file) {
  const options = { ...common, format: 'esm', sourcemap: false, write: false };
  const result = await build({ ...options, entryPoints: [file] });
  return import(`data:text/javascript;base64,${Buffer.from(result.outputFiles[0].contents).toString('base64')}`);
}
