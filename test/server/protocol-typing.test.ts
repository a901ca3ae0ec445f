// Somebody types faster than answers come, in an editor that drops what comes too late: through the built server.
import { expect, test, vi } from 'vitest';
import { CancellationTokenSource, type TextEdit } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { formatText } from '../../grammar/print.ts';
import { start } from '../kit/editors.ts';

vi.setConfig({ testTimeout: 60_000 });

const uri = 'untitled:Untitled-1';
const block = (name: string) => `grid   ${name} {\nvoltage=400 V\nfrequency  =50 Hz\nx_over_r=5\n}\n\n`;
const plant = ['A', 'B', 'C', 'D', 'E', 'F'].map(block).join('');

/**
 * Types a text line by line into a document. The editor closes a brace as soon as it is opened, and asks at each line
 * end; it takes back what was not answered by the next key, and drops the answer if one comes all the same. Gives the
 * text that results, where `hears` tells after which line the author waits.
 */
async function typeInto(opened: string, typed: string, hears: (line: number) => boolean) {
  const editor = await start();
  await editor.open(uri, opened);
  let version = 1;
  let text = opened;
  let before: CancellationTokenSource | undefined;
  const pending: Promise<unknown>[] = [];
  for (const [index, line] of typed.split('\n').slice(0, -1).entries()) {
    before?.cancel();
    text += `${line}\n`;
    const isOpen = text.lastIndexOf('{') > text.lastIndexOf('}');
    void editor.change(uri, isOpen ? `${text}}\n` : text, ++version);
    before = new CancellationTokenSource();
    const document = TextDocument.create(uri, 'plant', version, text);
    const question = {
      textDocument: { uri },
      position: document.positionAt(text.length),
      ch: '\n',
      options: { tabSize: 2, insertSpaces: true },
    };
    const method = 'textDocument/onTypeFormatting';
    const answer = editor.connection.sendRequest<TextEdit[]>(method, question, before.token);
    if (hears(index)) text = TextDocument.applyEdits(document, await answer);
    else pending.push(answer.catch(() => {}));
  }
  await Promise.all(pending);
  return text;
}

const lines = plant.split('\n').length - 1;
const tidy = `${formatText(plant).trimEnd()}\n\n`;

test('one answer, the last, tidies all that was typed', async () => {
  expect(await typeInto('', plant, line => line === lines - 1)).toBe(tidy);
});

test('so does one answer in seven lines, wherever it falls', async () => {
  expect(await typeInto('', plant, line => line % 7 === 3 || line === lines - 1)).toBe(tidy);
});

test('what stood in the file before stays as it was', async () => {
  const opened = 'let  b=4 V\n\n';
  expect(await typeInto(opened, plant, line => line === lines - 1)).toBe(opened + tidy);
});
