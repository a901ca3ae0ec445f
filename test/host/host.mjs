// Starts and stops a real editor workbench on a free loopback port, with a profile that is thrown away.
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { codeServerFolder, hostFolder, nodePath } from './places.mjs';

/** Nothing moves, asks, greets or looks outside; what is tested stays as the product ships it. */
const quietSettings = {
  'chat.commandCenter.enabled': false,
  'chat.disableAIFeatures': true,
  'editor.accessibilitySupport': 'off',
  'editor.cursorBlinking': 'solid',
  'editor.hover.delay': 100,
  'extensions.autoCheckUpdates': false,
  'extensions.autoUpdate': false,
  'extensions.ignoreRecommendations': true,
  'files.autoSave': 'off',
  'git.enabled': false,
  'git.openRepositoryInParentFolders': 'never',
  'json.schemaDownload.enable': false,
  'security.workspace.trust.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'typescript.disableAutomaticTypeAcquisition': true,
  'update.mode': 'none',
  'window.commandCenter': false,
  'workbench.enableExperiments': false,
  'workbench.reduceMotion': 'on',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.welcomePage.walkthroughs.openOnInstall': false,
};

/** The editor does not ask whether a folder is trusted, and opens it as one that is not. */
const strangeFolders = {
  'security.workspace.trust.enabled': true,
  'security.workspace.trust.startupPrompt': 'never',
  'security.workspace.trust.banner': 'never',
};

const noGallery = JSON.stringify({ serviceUrl: '', itemUrl: '', resourceUrlTemplate: '', controlUrl: '' });

const running = new Set();
process.on('exit', () => {
  for (const workbench of running) workbench.discard();
});

/**
 * Starts a workbench and resolves when it answers. `vsix`: packages to install first; `settings` and `env` are
 * added to the quiet ones; `trust`: false where folders are to be met as strange ones, which nobody has said to trust.
 * `address({ folder, file, payload })` gives the page to open; `stop()` removes all.
 */
export async function startWorkbench({ vsix = [], settings = {}, env = {}, trust = true } = {}) {
  const root = mkdtempSync(path.join(tmpdir(), 'workbench-'));
  const data = path.join(root, 'data');
  const extensions = path.join(root, 'extensions');
  mkdirSync(path.join(data, 'User'), { recursive: true });
  for (const folder of [extensions, path.join(root, 'temporary')]) mkdirSync(folder);
  const profile = { ...quietSettings, ...(trust ? {} : strangeFolders), ...settings };
  writeFileSync(path.join(data, 'User/settings.json'), JSON.stringify(profile, null, 2));

  const command = [path.join(codeServerFolder, 'out/node/entry.js')];
  command.push('--user-data-dir', data, '--extensions-dir', extensions);
  const serverEnv = environment(root, env);
  for (const file of vsix) installPackage(command, file, serverEnv);

  const port = await freePort();
  const logFile = path.join(root, 'server.log');
  const server = spawnServer({ command, port, logFile, env: serverEnv, trust });
  const workbench = {
    port,
    logFile,
    address: request => address(port, request),
    remote: file => remote(port, file),
    /** The last resort, synchronous: at exit there is no time for a clean stop. */
    discard() {
      running.delete(workbench);
      signalGroup(server, 'SIGKILL');
      rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
    },
    async stop() {
      signalGroup(server, 'SIGTERM');
      await Promise.race([server.gone, pause(5000)]);
      workbench.discard();
    },
  };
  running.add(workbench);
  try {
    await answered(server, port);
  } catch (error) {
    const log = readFileSync(logFile, 'utf8').slice(-4000);
    workbench.discard();
    throw new Error(`${error.message}\n${log}`);
  }
  return workbench;
}

/** Unpacks an extension's package into a folder as an installation would, and gives that folder. */
export function unpackExtension(file, root) {
  const extensions = path.join(root, 'unpacked');
  for (const folder of [extensions, path.join(root, 'temporary')]) mkdirSync(folder, { recursive: true });
  const command = [path.join(codeServerFolder, 'out/node/entry.js'), '--user-data-dir', path.join(root, 'data')];
  installPackage([...command, '--extensions-dir', extensions], file, environment(root, {}));
  const [name] = readdirSync(extensions, { withFileTypes: true }).filter(entry => entry.isDirectory());
  if (!name) throw new Error(`${file} was not installed.`);
  return path.join(extensions, name.name);
}

function installPackage(command, file, env) {
  const argv = [...command, '--install-extension', path.resolve(file), '--force'];
  execFileSync(nodePath, argv, { env, stdio: ['ignore', 'pipe', 'pipe'] });
}

function environment(root, extra) {
  const env = { ...process.env, ...extra, HOME: root, EXTENSIONS_GALLERY: noGallery };
  for (const kind of ['CONFIG', 'DATA', 'CACHE', 'STATE'])
    env[`XDG_${kind}_HOME`] = path.join(root, kind.toLowerCase());
  for (const name of ['TMPDIR', 'XDG_RUNTIME_DIR']) env[name] = path.join(root, 'temporary');
  // These come from an editor's own terminal or from the test runner, and would change how the server starts.
  for (const name of ['VSCODE_IPC_HOOK_CLI', 'NODE_OPTIONS', 'PORT', 'PASSWORD', 'HASHED_PASSWORD']) delete env[name];
  return env;
}

function spawnServer({ command, port, logFile, env, trust }) {
  const options = ['--bind-addr', `127.0.0.1:${port}`, '--auth', 'none', '--ignore-last-opened', '--disable-proxy'];
  options.push('--disable-telemetry', '--disable-update-check');
  if (trust) options.push('--disable-workspace-trust');
  options.push('--disable-getting-started-override');
  // A built workbench loads an extension from its folder, and runs tests in it, only with this driver switched on.
  options.push('--vscode-option', 'enable-smoke-test-driver');
  const log = openSync(logFile, 'w');
  const leash = ['--import', path.join(hostFolder, 'leash.mjs')];
  const server = spawn(nodePath, [...leash, ...command, ...options], {
    env: { ...env, WATTWRIGHT_LEASH: 'on' },
    stdio: ['pipe', log, log],
    // A process group of its own: the server has children, and all are to go together.
    detached: true,
  });
  server.gone = new Promise(resolve => {
    server.once('exit', resolve);
    server.once('error', resolve);
  });
  return server;
}

async function answered(server, port) {
  let alive = true;
  server.gone.then(() => {
    alive = false;
  });
  const deadline = Date.now() + 60_000;
  while (alive && Date.now() < deadline) {
    const response = await fetch(`http://127.0.0.1:${port}/healthz`).catch(() => undefined);
    if (response?.ok) return;
    await pause(100);
  }
  throw new Error(alive ? 'The workbench did not answer within a minute.' : 'The workbench ended while starting.');
}

/** `folder` may be a file of the editor's that names several; `payload` is a list of [key, value] pairs that the workbench reads at start. */
function address(port, { folder, file, payload = [] }) {
  const pairs = file ? [...payload, ['openFile', remote(port, file)]] : payload;
  const several = folder.endsWith('.code-workspace');
  const query = new URLSearchParams({ [several ? 'workspace' : 'folder']: path.resolve(folder) });
  query.set('payload', JSON.stringify(pairs));
  return `http://127.0.0.1:${port}/?${query}`;
}

function remote(port, file) {
  return `vscode-remote://127.0.0.1:${port}${path.resolve(file)}`;
}

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

function signalGroup(child, signal) {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, signal);
  } catch {
    // The group is gone already.
  }
}

function pause(milliseconds) {
  return new Promise(resolve => setTimeout(resolve, milliseconds));
}
