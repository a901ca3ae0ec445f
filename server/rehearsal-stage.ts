// A second server in the same process, and an author who talks to it as an editor does. It knows no file, hears nothing of
// what the editor says, and nothing that it says reaches the editor.
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  type Connection,
  createConnection,
  createProtocolConnection,
  type DataCallback,
  type Disposable,
  type LogMessageParams,
  type Message,
  MessageType,
  type Position,
  ProposedFeatures,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver';
import { rehearsalPlant } from './rehearsal-plant.ts';

/** The last digit of a number in the plant. */
export interface Spot {
  readonly at: Position;
  readonly digit: string;
}

/** Each resolves with the server's answer; after an edit these are the findings. */
export interface Stage {
  readonly numbers: readonly Spot[];
  /** Of what is declared. */
  readonly names: readonly Position[];
  /** What the server had to log, which is nothing unless something is wrong. */
  readonly complaints: readonly string[];
  open(): Promise<unknown>;
  edit(spot: Spot, digit: string): Promise<unknown>;
  hover(at: Position): Promise<unknown>;
  /** A name begun on a line of its own, what may come there, and the line taken back. */
  complete(): Promise<unknown>;
  /** What an editor shows unasked. */
  pause(): Promise<unknown>;
  /** Nothing is said any more. Whatever was put off for a moment is let go with the rest. */
  close(): Promise<unknown>;
}

const uri = 'untitled:rehearsal';
const textDocument = { uri };

export async function openStage(serve: (connection: Connection) => void): Promise<Stage> {
  const [toServer, toAuthor] = [new Channel(), new Channel()];
  const server = createConnection(
    logger => createProtocolConnection(toServer.reader, toAuthor.writer, logger),
    { shutdownReceived: false, initialize: () => {}, exit: () => {} },
    ProposedFeatures.all,
  );
  const author = createProtocolConnection(toAuthor.reader, toServer.writer);
  const complaints: string[] = [];
  let version = 1;
  let told = (_version: number | undefined): void => {};
  author.onNotification('window/logMessage', ({ type, message }: LogMessageParams) => {
    if (type === MessageType.Error) complaints.push(message);
  });
  author.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => told(params.version));
  author.listen();
  serve(server);
  await author.sendRequest('initialize', { processId: null, rootUri: null, workspaceFolders: null, capabilities });
  await author.sendNotification('initialized', {});

  const findings = (wanted: number) =>
    new Promise<void>(resolve => {
      told = got => got === wanted && resolve();
    });
  const change = (from: Position, to: Position, text: string) => {
    version++;
    const seen = findings(version);
    const contentChanges = [{ range: { start: from, end: to }, text }];
    void author.sendNotification('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
    return seen;
  };
  const ask = (method: string, more: object = {}) => author.sendRequest(method, { textDocument, ...more });
  const lines = rehearsalPlant.split('\n');
  const everything = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };

  return {
    numbers: numbersIn(lines),
    names: namesIn(lines),
    complaints,
    open: () => {
      const seen = findings(version);
      const opened = { uri, languageId: 'plant', version, text: rehearsalPlant };
      void author.sendNotification('textDocument/didOpen', { textDocument: opened });
      return seen;
    },
    edit: ({ at }, digit) => change(at, { ...at, character: at.character + 1 }, digit),
    hover: at => ask('textDocument/hover', { position: at }),
    complete: async () => {
      const line = lines.findIndex(one => one.includes('load_loss'));
      const [start, end, name] = [{ line, character: 0 }, { line: line + 1, character: 0 }, '  no_load_c'];
      void change(start, start, `${name}\n`);
      const offered = await ask('textDocument/completion', { position: { line, character: name.length } });
      await change(start, end, '');
      return offered;
    },
    pause: () =>
      Promise.all([
        ask('textDocument/semanticTokens/full'),
        ask('textDocument/codeLens'),
        ask('textDocument/documentSymbol'),
        ask('textDocument/foldingRange'),
        ask('textDocument/inlayHint', { range: everything }),
      ]),
    close: () => author.sendRequest('shutdown'),
  };
}

const capabilities = { textDocument: { hover: { contentFormat: ['markdown'] }, publishDiagnostics: {} } };

function numbersIn(lines: readonly string[]): readonly Spot[] {
  return lines.flatMap((text, line) =>
    [...text.matchAll(/\d(?= \p{L}|\s*[%°Ω])/gu)].map(({ index, 0: digit }) => ({
      at: { line, character: index },
      digit,
    })),
  );
}

function namesIn(lines: readonly string[]): readonly Position[] {
  return lines.flatMap((text, line) => {
    const declared = /^\p{Ll}+ (?=\p{L}\w* (?:is|\{))/u.exec(text);
    return declared === null ? [] : [{ line, character: declared[0].length }];
  });
}

/** One direction: messages in their own form at one end, as text between, as the real ones are. */
class Channel {
  private received: DataCallback = () => {};
  readonly reader = new ChannelReader(callback => {
    this.received = callback;
  });
  readonly writer = new ChannelWriter(message => this.received(JSON.parse(JSON.stringify(message))));
}

class ChannelReader extends AbstractMessageReader {
  private readonly begin: (callback: DataCallback) => void;

  constructor(begin: (callback: DataCallback) => void) {
    super();
    this.begin = begin;
  }

  listen(callback: DataCallback): Disposable {
    this.begin(callback);
    return { dispose: () => {} };
  }
}

class ChannelWriter extends AbstractMessageWriter {
  private readonly pass: (message: Message) => void;

  constructor(pass: (message: Message) => void) {
    super();
    this.pass = pass;
  }

  async write(message: Message): Promise<void> {
    this.pass(message);
  }

  end(): void {}
}
