// The server while the world changes around it: branches, folders, renamed files, long texts, and clients that hurry.
import { renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { CancellationTokenSource, type TextDocumentEdit, type WorkspaceEdit } from 'vscode-languageserver/node';
import { analyze } from '../../engine/analyze.ts';
import { makeFolder, start } from '../kit/editors.ts';
import { snapshotOf } from '../kit/feature.ts';
import { type Editor, startServer } from '../kit/language-server.ts';
import { starter } from '../kit/starter.ts';

vi.setConfig({ testTimeout: 120_000 });
const patience = { timeout: 30_000 };

const sound = 'let peak = 400 kW\n';
const comma = 'let peak = 0,4 MW\n';
const made = 1;
const changed = 2;
const deleted = 3;

function tellOf(editor: Editor, changes: readonly { readonly uri: string; readonly type: number }[]) {
  return editor.connection.sendNotification('workspace/didChangeWatchedFiles', { changes });
}

function lastCodes(editor: Editor, uri: string) {
  return editor.published
    .findLast(one => one.uri === uri)
    ?.diagnostics.map(({ code }) => code)
    .sort();
}

describe('a branch is switched', () => {
  const use = (...names: readonly string[]) => names.map(name => `use "parts/${name}.plant"\n`).join('');

  test('many files change, come and go at once: what stays behind is what a fresh start would say', async () => {
    const before = new Map([
      ['a.plant', use('p', 'q')],
      ['b.plant', use('p')],
      ['parts/p.plant', comma],
      ['parts/q.plant', 'let further = 3 V\n'],
    ]);
    const after = new Map([
      ['a.plant', use('p', 'r')],
      ['parts/p.plant', sound],
      ['parts/r.plant', 'let other = 0,4 MW\n'],
    ]);
    const { at, write, address, uri } = makeFolder(before);
    const editor = await start({ folder: address });
    await editor.open(uri('a.plant'), before.get('a.plant')!);
    await expect.poll(() => lastCodes(editor, uri('parts/p.plant')), patience).toEqual(['decimal_comma']);
    for (const [name, text] of after) write(name, text);
    for (const name of ['b.plant', 'parts/q.plant']) rmSync(path.join(at, name));
    await tellOf(editor, [
      { uri: uri('parts/q.plant'), type: deleted },
      { uri: uri('b.plant'), type: deleted },
      { uri: uri('parts/p.plant'), type: changed },
      { uri: uri('parts/r.plant'), type: made },
      { uri: uri('a.plant'), type: changed },
    ]);
    await editor.change(uri('a.plant'), after.get('a.plant')!, 2);
    await expect.poll(() => lastCodes(editor, uri('parts/r.plant')), patience).toEqual(['decimal_comma']);
    await expect.poll(() => lastCodes(editor, uri('parts/p.plant')), patience).toEqual([]);
    expect(await editor.diagnosticsOf(uri('a.plant'), 2)).toMatchObject([{ code: 'syntax', severity: 3 }]);
  });

  test('a folder goes with all its files: those that used them miss them, and nobody is offered them', async () => {
    const plant = use('p');
    const { at, address, uri } = makeFolder(
      new Map([
        ['a.plant', plant],
        ['parts/p.plant', sound],
      ]),
    );
    const editor = await start({ folder: address });
    await editor.open(uri('a.plant'), plant);
    expect(await editor.diagnosticsOf(uri('a.plant'), 1)).toEqual([]);
    rmSync(path.join(at, 'parts'), { recursive: true });
    await tellOf(editor, [{ uri: uri('parts'), type: deleted }]);
    await expect.poll(() => lastCodes(editor, uri('a.plant')), patience).toEqual(['missing_file']);
    await editor.change(uri('a.plant'), 'use ""\n', 2);
    const position = { line: 0, character: 5 };
    const asked = { textDocument: { uri: uri('a.plant') }, position };
    const items = await editor.connection.sendRequest<{ label: string }[]>('textDocument/completion', asked);
    expect(items.map(({ label }) => label)).not.toContain('parts/p.plant');
  });

  test('a folder comes with all its files: the paths into it lead somewhere, and its plants are met', async () => {
    const plant = use('p').replace('parts/', 'shelf/');
    const { at, address, uri } = makeFolder(
      new Map([
        ['a.plant', plant],
        ['parts/p.plant', comma],
        ['parts/user.plant', 'use "../a.plant"\n'],
      ]),
    );
    const editor = await start({ folder: address });
    // A folder's other name is written into the files before it has it.
    await editor.open(uri('a.plant'), plant);
    expect(await editor.diagnosticsOf(uri('a.plant'), 1)).toMatchObject([{ code: 'missing_file' }]);
    renameSync(path.join(at, 'parts'), path.join(at, 'shelf'));
    await tellOf(editor, [
      { uri: uri('parts'), type: deleted },
      { uri: uri('shelf'), type: made },
    ]);
    await expect.poll(() => lastCodes(editor, uri('a.plant')), patience).toEqual(['syntax']);
    await expect.poll(() => lastCodes(editor, uri('shelf/p.plant')), patience).toEqual(['decimal_comma']);
    await editor.change(uri('a.plant'), 'let peak = 0,5 MW\n', 2);
    await expect.poll(() => lastCodes(editor, uri('shelf/user.plant')), patience).toEqual(['syntax']);
  });
});

describe('files get other names', () => {
  const capabilities = { workspace: { workspaceEdit: { documentChanges: true } } };
  const askRename = (editor: Editor, oldUri: string, newUri: string) => {
    return editor.connection.sendRequest<WorkspaceEdit>('workspace/willRenameFiles', { files: [{ oldUri, newUri }] });
  };

  test('references follow, also where no plant is open', async () => {
    const { address, uri } = makeFolder(starter('valley-station.plant'));
    const editor = await start({ folder: address, capabilities });
    expect(editor.initialized.capabilities.workspace?.fileOperations?.willRename?.filters).toHaveLength(2);
    const edit = await askRename(editor, uri('parts'), uri('shared/parts'));
    const edits = edit.documentChanges as TextDocumentEdit[];
    expect(new Set(edits.map(({ textDocument }) => textDocument.uri))).toEqual(
      new Set([uri('valley-station.plant'), uri('first-draft.plant')]),
    );
    const texts = edits.flatMap(one => one.edits.map(each => ('newText' in each ? each.newText : '')));
    expect(texts.every(text => text.startsWith('shared/parts/'))).toBe(true);
  });

  test('a file that nobody uses changes nothing', async () => {
    const { address, uri } = makeFolder(new Map([['a.plant', sound]]));
    const editor = await start({ folder: address, capabilities });
    expect(await askRename(editor, uri('a.plant'), uri('b.plant'))).toEqual({ documentChanges: [] });
    expect(await askRename(editor, 'file:///nowhere/a.plant', 'file:///nowhere/b.plant')).toEqual({
      documentChanges: [],
    });
  });
});

test('several folders: each has its own files, and one that is added later is looked through too', async () => {
  const one = makeFolder(new Map([['parts.plant', sound]]));
  const two = makeFolder(
    new Map([
      ['parts.plant', comma],
      ['user.plant', 'use "parts.plant"\n'],
    ]),
  );
  const editor = await start({ folder: one.address, capabilities: { workspace: { workspaceFolders: true } } });
  await editor.open(one.uri('parts.plant'), sound);
  expect(await editor.diagnosticsOf(one.uri('parts.plant'), 1)).toEqual([]);
  const added = [{ uri: two.address, name: 'two' }];
  await editor.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added, removed: [] } });
  await editor.open(two.uri('parts.plant'), comma);
  await expect.poll(() => lastCodes(editor, two.uri('parts.plant')), patience).toEqual(['decimal_comma']);
  // Its user was found on the disk, and is told that the part has a mistake.
  await expect.poll(() => lastCodes(editor, two.uri('user.plant')), patience).toEqual(['syntax']);
  expect(lastCodes(editor, one.uri('parts.plant'))).toEqual([]);
});

describe('a very long text', () => {
  const line = 'let number = 12 V\n';
  const long = `${comma}${line.repeat(Math.ceil(500_000 / line.length))}`;

  test('is read for its syntax, and says so; a shorter one is judged again', async () => {
    const editor = await start();
    const uri = 'untitled:Long';
    await editor.open(uri, long);
    const found = await editor.diagnosticsOf(uri, 1);
    expect(found.map(({ code }) => code).sort()).toEqual(['decimal_comma', 'not_evaluated']);
    expect(found.find(({ code }) => code === 'not_evaluated')?.message).toMatch(/beyond 500 kB .* syntax alone/);
    await editor.change(uri, comma, 2);
    expect((await editor.diagnosticsOf(uri, 2)).map(({ code }) => code)).toEqual(['decimal_comma']);
  });
});

test('work that takes long is announced and ends; short work is silent', async () => {
  const editor = await start({ capabilities: { window: { workDoneProgress: true } } });
  const told: string[] = [];
  editor.connection.onRequest('window/workDoneProgress/create', () => null);
  editor.connection.onNotification('$/progress', ({ value }: { value: { kind: string; title?: string } }) => {
    told.push(value.kind === 'begin' ? `begin ${value.title}` : value.kind);
  });
  await editor.open('untitled:Short', sound);
  await editor.diagnosticsOf('untitled:Short', 1);
  expect(told).toEqual([]);
  const lets = Array.from({ length: 3000 }, (_, index) => `let number${index} = ${index} V\n`).join('');
  await editor.open('untitled:Longer', lets);
  await editor.diagnosticsOf('untitled:Longer', 1);
  await expect.poll(() => told, patience).toEqual(['begin Checking Longer', 'end']);
});

describe('clients that hurry', () => {
  const uri = 'untitled:Untitled-1';
  const position = { line: 0, character: 1 };

  test('nothing is answered before hello', async () => {
    const { child, connection } = startServer();
    const asked = { textDocument: { uri }, position };
    await expect(connection.sendRequest('textDocument/hover', asked)).rejects.toThrow(/initialize/i);
    child.kill();
    connection.dispose();
  });

  test('hello is said once', async () => {
    const editor = await start();
    const again = editor.connection.sendRequest('initialize', { processId: null, rootUri: null, capabilities: {} });
    await expect(again).rejects.toMatchObject({ code: -32600 });
    await editor.open(uri, 'grid MAIN { voltage = 400 V }\n');
    expect(await editor.diagnosticsOf(uri, 1)).not.toEqual([]);
  });

  test('an answer is about the text of the last edit before the question', async () => {
    const editor = await start();
    void editor.open(uri, 'grid MAIN { voltage = 400 V }\n');
    const symbols = [];
    for (let version = 2; version < 8; version += 1) {
      void editor.change(uri, `grid NET${version} { voltage = 400 V }\n`, version);
      symbols.push(
        editor.connection.sendRequest<{ name: string }[]>('textDocument/documentSymbol', { textDocument: { uri } }),
      );
    }
    const names = (await Promise.all(symbols)).map(([first]) => first?.name);
    // Each question may be answered from a later text, never from an earlier one.
    const late = names.filter((name, index) => !(Number(name?.slice(3)) >= index + 2));
    expect(late).toEqual([]);
    expect(names.at(-1)).toBe('NET7');
  });

  test('questions that are taken back cost no answer, and the next one is answered', async () => {
    const editor = await start();
    // Long enough for all that follows to lie in the queue.
    const numbers = Array.from({ length: 3000 }, (_, index) => `let number${index} = ${index} V\n`).join('');
    void editor.open(uri, comma + numbers);
    const asked = { textDocument: { uri }, position };
    void editor.connection.sendRequest('textDocument/hover', asked);
    const outcomes = Array.from({ length: 20 }, () => {
      const source = new CancellationTokenSource();
      const answer = editor.connection.sendRequest('textDocument/hover', asked, source.token);
      source.cancel();
      return answer.then(
        () => 'answered',
        (error: { code?: number }) => error.code,
      );
    });
    // -32800 is RequestCancelled of the protocol.
    const cancelled = (await Promise.all(outcomes)).filter(outcome => outcome === -32800);
    expect(cancelled.length).toBeGreaterThan(15);
    expect(await editor.connection.sendRequest('textDocument/completion', asked)).not.toEqual([]);
    expect(editor.log).toEqual([]);
  });

  test('one client after the other, on the same folder: the second finds what the first left', async () => {
    const { write, address, uri: at } = makeFolder(new Map([['a.plant', comma]]));
    const first = await start({ folder: address });
    await first.open(at('a.plant'), comma);
    await first.diagnosticsOf(at('a.plant'), 1);
    expect(await first.stop()).toBe(0);
    write('a.plant', sound);
    const second = await start({ folder: address });
    await second.open(at('a.plant'), sound);
    expect(await second.diagnosticsOf(at('a.plant'), 1)).toEqual([]);
    expect(await second.stop()).toBe(0);
  });
});

test('whatever is published for a version is what a fresh start says of that version', async () => {
  const [first, ...parts] = [...starter('first-draft.plant')];
  const { address, uri } = makeFolder(new Map([first!, ...parts]));
  const editor = await start({ folder: address });
  const file = uri('first-draft.plant');
  let text = first![1];
  let version = 1;
  const texts = new Map([[version, text]]);
  await editor.open(file, text);
  const edit = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    drop: fc.integer({ min: 0, max: 12 }),
    insert: fc.constantFrom('', '\n', '}', '{', ' = 4 V', '0', 'T1', 'use "parts/converters.plant"\n', '9 kW', '"'),
    waits: fc.boolean(),
  });
  const rows = fc.sample(fc.array(edit, { minLength: 3, maxLength: 3 }), { numRuns: 12, seed: 5 });
  for (const row of rows) {
    for (const { at, drop, insert, waits } of row) {
      const start = Math.floor(at * text.length);
      text = text.slice(0, start) + insert + text.slice(start + drop);
      version += 1;
      texts.set(version, text);
      await editor.change(file, text, version);
      if (waits) await editor.diagnosticsOf(file, version);
    }
    await editor.diagnosticsOf(file, version);
    text = first![1];
    version += 1;
    texts.set(version, text);
    await editor.change(file, text, version);
  }
  await editor.diagnosticsOf(file, version);
  const seen = editor.published.filter(one => one.uri === file);
  expect(new Set(seen.map(one => one.version)).size).toBeGreaterThan(12);
  for (const published of seen) {
    const files = new Map([[first![0], texts.get(published.version!)!], ...parts]);
    const { findings } = analyze(first![0], snapshotOf(files), { today: undefined });
    const cold = findings.filter(({ place }) => place.path === first![0]).map(({ code }) => code);
    expect(published.diagnostics.map(({ code }) => code)).toEqual(cold);
  }
  // A text is looked at once: nothing is published twice, and nothing older comes behind.
  const versions = seen.map(one => one.version!);
  expect(versions).toEqual([...new Set(versions)].sort((a, b) => a - b));
  expect(editor.log).toEqual([]);
});
