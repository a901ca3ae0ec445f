// Runs the composite actions as a runner would: the steps of action.yml in order, with their conditions and inputs, a
// made-up event, and a stand-in for the platform's interface that remembers what it was asked.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type IncomingMessage } from 'node:http';
import path from 'node:path';
import { deflateRawSync } from 'node:zlib';

const actions = path.resolve(import.meta.dirname, '../../client/action');

export interface Step {
  readonly name: string;
  readonly id: string | undefined;
  readonly condition: string | undefined;
  readonly run: string | undefined;
  readonly uses: string | undefined;
  readonly env: Readonly<Record<string, string>>;
}

/** The steps of an action file, as far as ours use the form: one line a key, environment one level deeper. */
export function stepsOf(file: string): readonly Step[] {
  const [, body = ''] = readFileSync(path.join(actions, file), 'utf8').split('\n  steps:\n');
  return body
    .split(/^ {4}- /m)
    .slice(1)
    .map(text => {
      const key = (name: string) => new RegExp(`^ *${name}: (.+)$`, 'm').exec(text)?.[1];
      const env = [...text.matchAll(/^ {8}([A-Z_]+): (.+)$/gm)].map(
        ([, name = '', value = '']) => [name, value] as const,
      );
      return {
        name: key('name') ?? '',
        id: key('id'),
        condition: key('if'),
        run: key('run'),
        uses: key('uses'),
        env: Object.fromEntries(env),
      };
    });
}

export function defaultsOf(file: string): Readonly<Record<string, string>> {
  const inputs = /^inputs:\n((?: .*\n)+)/m.exec(readFileSync(path.join(actions, file), 'utf8'))?.[1] ?? '';
  const all = inputs.matchAll(/^ {2}([\w-]+):\n {4}description: .*\n {4}default: (.*)$/gm);
  return Object.fromEntries([...all].map(([, name = '', value = '']) => [name, value.replace(/^(['"])(.*)\1$/, '$2')]));
}

export interface ActionRun {
  readonly code: number;
  /** What the steps printed: the runner reads commands from it. */
  readonly log: string;
  readonly summary: string;
  readonly outputs: Readonly<Record<string, string>>;
  /** Where the steps leave things for each other. */
  readonly work: string;
  /** Names of the steps that ran or would run. */
  readonly steps: readonly string[];
}

export interface Setting {
  /** The checkout. */
  readonly folder: string;
  /** A folder for the runner's own files. */
  readonly runner: string;
  readonly event: object;
  readonly inputs?: Readonly<Record<string, string>>;
  readonly api: string;
  readonly env?: Readonly<Record<string, string>>;
}

export async function runAction(file: string, setting: Setting): Promise<ActionRun> {
  const { folder, runner, event, api } = setting;
  mkdirSync(runner, { recursive: true });
  const at = (name: string) => path.join(runner, name);
  for (const name of ['output', 'summary']) writeFileSync(at(name), '');
  writeFileSync(at('event.json'), JSON.stringify(event));
  const inputs = { ...defaultsOf(file), token: 'secret', ...setting.inputs };
  const base = {
    ...process.env,
    GITHUB_ACTION_PATH: path.join(actions, path.dirname(file)),
    GITHUB_API_URL: api,
    GITHUB_EVENT_PATH: at('event.json'),
    GITHUB_OUTPUT: at('output'),
    GITHUB_STEP_SUMMARY: at('summary'),
    GITHUB_REPOSITORY: 'cableway/plants',
    GITHUB_SHA: '1'.repeat(40),
    GITHUB_REF: 'refs/pull/7/merge',
    RUNNER_TEMP: at('temp'),
    ...setting.env,
  };
  let log = '';
  let code = 0;
  const steps: string[] = [];
  const values = (word: string): string => {
    const [, source, name = ''] = /^(inputs|steps\.review\.outputs)\.([\w-]+)$/.exec(word) ?? [];
    if (source === undefined) throw new Error(`${word} is nothing that this runner knows`);
    return (
      (source === 'inputs' ? (inputs as Readonly<Record<string, string>>)[name] : outputsIn(at('output'))[name]) ?? ''
    );
  };
  for (const step of stepsOf(file)) {
    if (code !== 0 || !holds(step.condition, values)) continue;
    steps.push(step.name);
    if (step.run === undefined) continue;
    const env = Object.fromEntries(
      Object.entries(step.env).map(([name, value]) => [
        name,
        value.replace(/\$\{\{ (.+?) \}\}/g, (_, word) => values(word)),
      ]),
    );
    const ran = await shell(step.run, folder, { ...base, ...env });
    log += ran.out;
    code = ran.code;
  }
  return {
    code,
    log,
    steps,
    summary: readFileSync(at('summary'), 'utf8'),
    outputs: outputsIn(at('output')),
    work: at('temp/wattwright'),
  };
}

function holds(condition: string | undefined, values: (word: string) => string): boolean {
  return (condition ?? '')
    .split(' && ')
    .filter(Boolean)
    .every(one => {
      const [, word = '', operator, literal] = /^(\S+) (==|!=) '(.*)'$/.exec(one) ?? [];
      return (values(word) === literal) === (operator === '==');
    });
}

function outputsIn(file: string): Readonly<Record<string, string>> {
  const lines = existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n') : [];
  return Object.fromEntries(
    lines.filter(Boolean).map(line => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)]),
  );
}

export function shell(
  command: string,
  cwd: string,
  env: NodeJS.ProcessEnv,
): Promise<{ readonly code: number; readonly out: string }> {
  return new Promise(resolve => {
    const child = spawn('bash', ['-e', '-o', 'pipefail', '-c', command], { cwd, env });
    let out = '';
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (data: Buffer) => (out += data.toString('utf8')));
    child.on('close', code => resolve({ code: code ?? 2, out }));
  });
}

export interface Asked {
  readonly method: string;
  readonly route: string;
  readonly body: unknown;
}

export interface Platform {
  readonly address: string;
  /** Everything but reading. */
  readonly written: () => readonly Asked[];
  readonly asked: readonly Asked[];
  /** What a route is answered with; a function sees the body. */
  readonly answers: Map<string, unknown>;
  close(): void;
}

/** Answers by method and path without the query; bytes as they are, all else as JSON; what it does not know with 404. */
export async function startPlatform(): Promise<Platform> {
  const asked: Asked[] = [];
  const answers = new Map<string, unknown>();
  const server = createServer(async (request, response) => {
    const route = (request.url ?? '').replace(/\?.*/, '');
    const text = await textOf(request);
    asked.push({ method: request.method ?? '', route, body: text === '' ? undefined : JSON.parse(text) });
    const answer = answers.get(`${request.method} ${route}`);
    response.statusCode = answer === undefined ? 404 : 200;
    response.end(answer instanceof Uint8Array ? answer : JSON.stringify(answer ?? {}));
  });
  await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    address: `http://127.0.0.1:${port}`,
    asked,
    written: () => asked.filter(({ method }) => method !== 'GET'),
    answers,
    close: () => server.close(),
  };
}

async function textOf(request: IncomingMessage): Promise<string> {
  let text = '';
  for await (const part of request) text += String(part);
  return text;
}

/** An archive of these files, as small as the format allows. */
export function zip(files: Readonly<Record<string, string | Uint8Array>>): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, content] of Object.entries(files)) {
    const packed = deflateRawSync(content);
    const called = Buffer.from(name);
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(8, 8);
    local.writeUInt32LE(packed.length, 18);
    local.writeUInt16LE(called.length, 26);
    const entry = Buffer.alloc(46);
    entry.writeUInt32LE(0x02014b50, 0);
    entry.writeUInt16LE(8, 10);
    entry.writeUInt32LE(packed.length, 20);
    entry.writeUInt16LE(called.length, 28);
    entry.writeUInt32LE(offset, 42);
    parts.push(local, called, packed);
    directory.push(entry, called);
    offset += local.length + called.length + packed.length;
  }
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(Object.keys(files).length, 10);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, ...directory, end]);
}
