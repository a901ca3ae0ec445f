// Launches Chromium through the browser driver, shut in on the loopback address.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { findBrowser } from './places.mjs';

const options = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // No name and no address but the loopback one can be reached, whatever a page asks for.
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
];

const homes = [];
process.on('exit', () => {
  for (const home of homes) rmSync(home, { recursive: true, force: true });
});

/** `page` is an empty page; `outside` collects every address beyond the loopback one that a page asked for. */
export async function launchBrowser({ width = 1280, height = 800, scale = 1 } = {}) {
  // Imported late: the driver may have been installed a moment ago.
  const { chromium } = await import('playwright-core');
  const executablePath = findBrowser();
  if (!executablePath) throw new Error('No Chromium found: run "node test/host/install.mjs" first.');
  const home = mkdtempSync(path.join(tmpdir(), 'browser-'));
  homes.push(home);
  const browser = await chromium.launch({ executablePath, args: options, env: { ...process.env, HOME: home } });
  const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor: scale });
  const outside = new Set();
  context.on('request', request => {
    const url = new URL(request.url());
    if (!/^(https?|wss?):$/.test(url.protocol) || url.hostname === '127.0.0.1') return;
    // The editor's own files in a preview: a service worker of the page answers for this name, nothing leaves.
    if (url.hostname.endsWith('.vscode-resource.vscode-cdn.net')) return;
    outside.add(url.origin + url.pathname);
  });
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const page = await context.newPage();
  return { page, outside, close: () => browser.close() };
}
