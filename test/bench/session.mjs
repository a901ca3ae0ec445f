// One server with its documents open, as an editor sees it: edits, findings, hover, completion, each with its time.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRandom } from './inputs/random.mjs';
import { spawnServer } from './language-server.mjs';

const longestWait = 120_000;

/** Starts the server of a subject on a folder of its own; resolves when it has said what it can do. */
export async function openSession(subject) {
  const folder = mkdtempSync(path.join(tmpdir(), 'bench-'));
  for (const [name, text] of Object.entries(subject.companions)) writeFileSync(path.join(folder, name), text);
  const listeners = new Set();
  const started = performance.now();
  const server = spawnServer(subject, params => {
    for (const listener of listeners) listener(params);
  });
  const answer = await server.request('initialize', initializeParams(folder, subject));
  const initialized = performance.now() - started;
  server.notify('initialized', {});
  if (subject.configuration !== undefined)
    server.notify('workspace/didChangeConfiguration', { settings: subject.configuration });
  const pulls = answer.capabilities.diagnosticProvider !== undefined;
  const state = { subject, server, listeners, pulls, folder };
  return {
    name: subject.name,
    started,
    initialized,
    open: (document, name) => openDocument(state, document, name),
    peakMemory: server.peakMemory,
    stop: async () => {
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function initializeParams(folder, { initializationOptions }) {
  const uri = pathToFileURL(folder).href;
  return {
    processId: process.pid,
    rootUri: uri,
    workspaceFolders: [{ uri, name: 'bench' }],
    initializationOptions,
    capabilities: {
      workspace: { configuration: true, workspaceFolders: true },
      textDocument: {
        diagnostic: {},
        publishDiagnostics: { versionSupport: true },
        completion: { completionItem: { snippetSupport: true } },
        hover: { contentFormat: ['markdown', 'plaintext'] },
      },
    },
  };
}

/** Opens a document, and hands back what an editor would do with it. `opened` resolves with its first findings. */
function openDocument(state, document, name) {
  const file = path.join(state.folder, `${name}${state.subject.extension}`);
  writeFileSync(file, document.text);
  const uri = pathToFileURL(file).href;
  const random = createRandom(document.text.length);
  const digits = new Map();
  let version = 1;

  const send = changes => {
    version++;
    const contentChanges = changes.map(({ from, to = from, text }) => ({ range: { start: from, end: to }, text }));
    state.server.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
  };
  const changeDigit = digit => {
    const spot = random.of(document.numbers);
    const known = digits.get(spot) ?? Number(spot.digit);
    const next = digit ?? (known + 1 + random.whole(0, 7)) % 10;
    digits.set(spot, next);
    const to = { line: spot.line, character: spot.character + 1 };
    send([{ from: { line: spot.line, character: spot.character }, to, text: String(next) }]);
  };
  const findings = () => (state.pulls ? pull(state, uri) : published(state, uri, version));
  const timed = async (act, wait = findings) => {
    const before = performance.now();
    act();
    const value = await wait();
    return { time: performance.now() - before, value };
  };

  const textDocument = { uri, languageId: state.subject.languageId, version, text: document.text };
  state.server.notify('textDocument/didOpen', { textDocument });
  return {
    opened: findings(),
    /** Waits until nothing more comes on account of the opening. */
    settle: pause => (state.pulls ? pull(state, uri) : quiet(state, uri, version, pause, pause)),
    /** The last digit of some number, then the findings. */
    edit: () => timed(() => changeDigit()),
    /** Findings of a text with a word where a number belongs, which is put right again. */
    spoil: async () => {
      const { line, start, character } = document.numbers[0];
      const from = { line, character: start };
      const number = document.text.split('\n')[line].slice(start, character + 1);
      const { wrong } = state.subject;
      const put = (length, text) => timed(() => send([{ from, to: { line, character: start + length }, text }]));
      const { value } = await put(number.length, wrong);
      await put(wrong.length, number);
      return value;
    },
    hover: () => {
      const position = random.of(document.hovers);
      return timed(
        () => {},
        () => state.server.request('textDocument/hover', { textDocument: { uri }, position }),
      );
    },
    /** A name begun on a new line, and what may come there, asked for before the server has had a rest. */
    complete: async () => {
      const { line } = random.of(document.gaps);
      const text = state.subject.begun;
      const position = { line, character: text.length };
      const asked = await timed(
        () => send([{ from: { line, character: 0 }, text: `${text}${state.subject.begunEnd ?? ''}\n` }]),
        () => state.server.request('textDocument/completion', { textDocument: { uri }, position }),
      );
      await timed(() => send([{ from: { line, character: 0 }, to: { line: line + 1, character: 0 }, text: '' }]));
      return asked;
    },
    /**
     * 41 keys of a line, typed at an even pace: the time from the last key to its findings. Where a server says no
     * version, these are the last ones before it is quiet for `pause` milliseconds.
     */
    burst: async (pace, pause) => {
      const { line } = document.gaps[Math.floor(document.gaps.length / 2)];
      send([{ from: { line, character: 0 }, text: '\n' }]);
      for (const [index, key] of [...state.subject.typed].entries()) {
        if (state.pulls && index > 0) pull(state, uri).catch(() => {});
        await new Promise(resolve => setTimeout(resolve, pace));
        send([{ from: { line, character: index }, text: key }]);
      }
      const last = performance.now();
      const settled = await (state.pulls
        ? pull(state, uri).then(() => performance.now())
        : quiet(state, uri, version, pause));
      await timed(() => send([{ from: { line, character: 0 }, to: { line: line + 1, character: 0 }, text: '' }]));
      return settled - last;
    },
  };
}

async function pull(state, uri) {
  const answer = await state.server.request('textDocument/diagnostic', { textDocument: { uri } });
  return answer.items ?? [];
}

/** The findings of that version; where a server says no version, the next ones that come. */
function published(state, uri, version) {
  return new Promise((resolve, reject) => {
    const finish = settle => value => {
      clearTimeout(timer);
      state.listeners.delete(look);
      settle(value);
    };
    const timer = setTimeout(finish(reject), longestWait, new Error(`${state.subject.name}: no findings of ${uri}`));
    const look = params => {
      if (sameAddress(params.uri, uri) && (params.version === undefined || params.version >= version))
        finish(resolve)(params.diagnostics);
    };
    state.listeners.add(look);
  });
}

/** When the findings of that version came, or the last ones before a pause; for the first ones it waits longer. */
function quiet(state, uri, version, pause, first = longestWait) {
  return new Promise(resolve => {
    let last = performance.now();
    const finish = () => {
      clearTimeout(timer);
      state.listeners.delete(look);
      resolve(last);
    };
    let timer = setTimeout(finish, first);
    const look = params => {
      if (!sameAddress(params.uri, uri) || params.version < version) return;
      last = performance.now();
      if (params.version !== undefined && first === longestWait) return finish();
      clearTimeout(timer);
      timer = setTimeout(finish, pause);
    };
    state.listeners.add(look);
  });
}

const sameAddress = (a, b) => decodeURIComponent(a) === decodeURIComponent(b);
