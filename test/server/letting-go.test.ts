// What the server keeps for the next edit, and that it is let go when there is none to come.
import { PassThrough } from 'node:stream';
import { afterEach, expect, test, vi } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { exemplars, forgetExemplars } from '../../grammar/exemplars.ts';
import { emptyEnvironment } from '../../server/addresses.ts';
import { rehearsalPlant } from '../../server/rehearsal-plant.ts';
import { startServer } from '../../server/server.ts';

let editor: ProtocolConnection | undefined;
afterEach(async () => {
  await editor?.sendRequest('shutdown');
  editor?.dispose();
});

/** A server in this process. */
async function greeted() {
  const [there, back] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(new StreamMessageReader(there), new StreamMessageWriter(back)), emptyEnvironment);
  editor = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const published: PublishDiagnosticsParams[] = [];
  editor.onNotification('textDocument/publishDiagnostics', params => void published.push(params));
  editor.listen();
  await editor.sendRequest('initialize', { processId: null, rootUri: null, capabilities: {} });
  await editor.sendNotification('initialized', {});
  const open = async (uri: string) => {
    const textDocument = { uri, languageId: 'plant', version: 1, text: rehearsalPlant };
    await editor!.sendNotification('textDocument/didOpen', { textDocument });
    await vi.waitFor(() => expect(published.some(one => one.uri === uri)).toBe(true));
  };
  const close = async (uri: string) => {
    published.length = 0;
    await editor!.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await vi.waitFor(() => expect(published).toContainEqual(expect.objectContaining({ uri, diagnostics: [] })));
  };
  return { open, close };
}

test('one of each layout stays as long as a document is open, and none behind the last', async () => {
  forgetExemplars();
  const { open, close } = await greeted();
  await open('untitled:valley');
  await open('untitled:summit');
  const kept = { ...exemplars };
  expect(Object.keys(kept).filter(name => kept[name as keyof typeof kept] !== undefined)).toEqual([
    'syntax',
    'lowering',
    'check',
    'limit',
  ]);
  await close('untitled:valley');
  expect(exemplars).toEqual(kept);
  await close('untitled:summit');
  expect(Object.values(exemplars)).toEqual([undefined, undefined, undefined, undefined]);
});
