// Drives any language server over its standard streams: framing, requests, notifications, and nothing of a client.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

const longestWait = 120_000;

/**
 * Starts a server. `settings` answers its questions for configuration, by section.
 * `onDiagnostics` is called with what it publishes.
 */
export function spawnServer({ command, args, settings = {} }, onDiagnostics = () => {}) {
  const child = spawn(command, args, { stdio: ['pipe', 'pipe', 'pipe'] });
  const waiting = new Map();
  let nextId = 1;
  let complaints = '';
  let ended = false;
  child.stderr.on('data', data => {
    complaints = (complaints + data).slice(-4000);
  });
  child.stdin.on('error', () => {});
  child.on('exit', code => {
    ended = true;
    for (const { reject } of waiting.values()) reject(new Error(`${args[0]} ended with ${code}. ${complaints}`));
  });

  const send = message => {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    child.stdin.write(Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body]));
  };
  const receive = message => {
    if (message.method === undefined) {
      const asked = waiting.get(message.id);
      waiting.delete(message.id);
      if (message.error === undefined) asked?.resolve(message.result);
      else asked?.reject(new Error(`${asked.method}: ${message.error.message}`));
    } else if (message.id !== undefined) {
      const items = message.params?.items ?? [];
      const configuration = message.method === 'workspace/configuration';
      send({ id: message.id, result: configuration ? items.map(({ section }) => settings[section] ?? null) : null });
    } else if (message.method === 'textDocument/publishDiagnostics') onDiagnostics(message.params);
  };
  child.stdout.on('data', createReader(receive));

  const request = (method, params) => {
    const id = nextId++;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(
        () => reject(new Error(`${args[0]}: no answer to ${method}. ${complaints}`)),
        longestWait,
      );
      const done = settle => value => {
        clearTimeout(timer);
        settle(value);
      };
      waiting.set(id, { method, resolve: done(resolve), reject: done(reject) });
      send({ id, method, params });
    });
  };
  return {
    request,
    notify: (method, params) => send({ method, params }),
    peakMemory: () => peakMemory(child.pid),
    stop: async () => {
      if (ended) return;
      const gone = new Promise(resolve => child.once('exit', resolve));
      request('shutdown', undefined).then(
        () => send({ method: 'exit' }),
        () => {},
      );
      const impatient = setTimeout(() => child.kill('SIGKILL'), 3000);
      await gone;
      clearTimeout(impatient);
    },
  };
}

/** Takes the stream apart into messages; chunks are joined only when a message is complete. */
function createReader(receive) {
  let chunks = [];
  let length = 0;
  let wanted = 0;
  return chunk => {
    chunks.push(chunk);
    length += chunk.length;
    while (length >= wanted) {
      const data = chunks.length === 1 ? chunks[0] : Buffer.concat(chunks);
      chunks = [data];
      const end = data.indexOf('\r\n\r\n');
      if (end === -1) return;
      const size = Number(/content-length: *(\d+)/i.exec(data.toString('latin1', 0, end))?.[1]);
      const start = end + 4;
      wanted = start + size;
      if (length < wanted) return;
      const rest = data.subarray(wanted);
      chunks = [rest];
      length = rest.length;
      wanted = 0;
      receive(JSON.parse(data.toString('utf8', start, start + size)));
    }
  };
}

/** Largest resident size so far, in bytes; undefined where the system doesn't tell. */
export function peakMemory(pid) {
  try {
    const found = /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
    return found === null ? undefined : Number(found[1]) * 1024;
  } catch {
    return undefined;
  }
}
