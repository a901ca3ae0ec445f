// The language server seen from outside: order of messages, stale answers, unknown documents, and the end.
import { renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test, vi } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver/node';
import { makeFolder, start } from '../kit/editors.ts';
import { startServer } from '../kit/language-server.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });
const patience = { timeout: 20_000 };

const untitled = 'untitled:Untitled-1';
const sound = 'let peak = 400 kW\n';
const comma = 'let peak = 0,4 MW\n';
const codes = (diagnostics: readonly Diagnostic[]) => diagnostics.map(({ code }) => code);

describe('findings', () => {
  test('of a document that was never saved, with version, severity and code', async () => {
    const editor = await start();
    await editor.open(untitled, comma);
    expect(await editor.diagnosticsOf(untitled, 1)).toMatchObject([
      {
        code: 'decimal_comma',
        severity: 1,
        source: 'wattwright',
        range: { start: { line: 0, character: 11 }, end: { line: 0, character: 14 } },
      },
    ]);
  });

  test('go when the mistake goes, and come back with it', async () => {
    const editor = await start();
    await editor.open(untitled, comma);
    await editor.change(untitled, sound, 2);
    expect(codes(await editor.diagnosticsOf(untitled, 2))).toEqual([]);
    await editor.change(untitled, `\n${comma}`, 3);
    expect(await editor.diagnosticsOf(untitled, 3)).toMatchObject([{ range: { start: { line: 1, character: 11 } } }]);
  });

  test('of a burst of edits only the last text counts, and nothing older follows it', async () => {
    const editor = await start();
    await editor.open(untitled, sound);
    await editor.diagnosticsOf(untitled, 1);
    const before = editor.published.length;
    for (let version = 2; version <= 60; version += 1) {
      void editor.change(untitled, version === 60 ? sound : comma.repeat(version), version);
    }
    expect(codes(await editor.diagnosticsOf(untitled, 60))).toEqual([]);
    await editor.connection.sendRequest('textDocument/hover', {
      textDocument: { uri: untitled },
      position: { line: 0, character: 0 },
    });
    const versions = editor.published.slice(before).map(({ version }) => version);
    expect(versions.at(-1)).toBe(60);
    // Superseded texts are never analysed; a few may be where the burst came in several pieces.
    expect(versions.length).toBeLessThan(15);
    expect(versions).toEqual([...versions].sort((a, b) => (a ?? 0) - (b ?? 0)));
  });

  test('incremental edits are applied in order', async () => {
    const editor = await start();
    await editor.open(untitled, sound);
    await editor.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: untitled, version: 2 },
      contentChanges: [
        { range: { start: { line: 0, character: 11 }, end: { line: 0, character: 14 } }, text: '0' },
        { range: { start: { line: 0, character: 12 }, end: { line: 0, character: 12 } }, text: ',4' },
      ],
    });
    expect(codes(await editor.diagnosticsOf(untitled, 2))).toEqual(['decimal_comma']);
  });

  test('are taken back when the document is closed', async () => {
    const editor = await start();
    const { uri } = makeFolder(Object.entries({ 'a.plant': comma }));
    await editor.open(uri('a.plant'), comma);
    await editor.diagnosticsOf(uri('a.plant'), 1);
    await editor.close(uri('a.plant'));
    await expect.poll(() => editor.published.at(-1), patience).toEqual({ uri: uri('a.plant'), diagnostics: [] });
  });

  test('saving publishes again', async () => {
    const editor = await start();
    await editor.open(untitled, comma);
    await editor.diagnosticsOf(untitled, 1);
    const before = editor.published.length;
    await editor.connection.sendNotification('textDocument/didSave', { textDocument: { uri: untitled } });
    await expect.poll(() => editor.published.length, patience).toBe(before + 1);
    expect(codes(editor.published.at(-1)!.diagnostics)).toEqual(['decimal_comma']);
  });
});

describe('files that use each other', () => {
  const plant = 'use "parts/p.plant"\n\nplant Station {\n  altitude = 1400 m\n}\n';

  test('the text in the editor goes before the one on disk', async () => {
    const { at, uri } = makeFolder(Object.entries({ 'parts/p.plant': sound, 'a.plant': plant }));
    const editor = await start({ folder: pathToFileURL(at).href });
    await editor.open(uri('a.plant'), plant);
    await editor.diagnosticsOf(uri('a.plant'), 1);
    await editor.open(uri('parts/p.plant'), comma);
    expect(codes(await editor.diagnosticsOf(uri('parts/p.plant'), 1))).toContain('decimal_comma');
  });

  test('a mistake in a part that is not open is shown in the part, and goes when the file on disk is mended', async () => {
    const { at, uri } = makeFolder(Object.entries({ 'parts/p.plant': comma, 'a.plant': plant }));
    const editor = await start({ folder: pathToFileURL(at).href });
    await editor.open(uri('a.plant'), plant);
    expect(codes(await editor.diagnosticsOf(uri('parts/p.plant')))).toEqual(['decimal_comma']);
    writeFileSync(path.join(at, 'parts/p.plant'), sound);
    const changes = [{ uri: uri('parts/p.plant'), type: 2 }];
    await editor.connection.sendNotification('workspace/didChangeWatchedFiles', { changes });
    await expect
      .poll(() => editor.published.findLast(one => one.uri === uri('parts/p.plant'))?.diagnostics, patience)
      .toEqual([]);
  });

  test('a folder that was renamed is looked into again when the editor says so, and nothing else does', async () => {
    const { at, uri } = makeFolder(Object.entries({ 'parts/p.plant': sound, 'a.plant': plant }));
    const editor = await start({ folder: pathToFileURL(at).href });
    // Asked for before it is there.
    await editor.open(uri('a.plant'), plant.replace('parts/', 'shelf/'));
    expect(codes(await editor.diagnosticsOf(uri('a.plant')))).toContain('missing_file');
    renameSync(path.join(at, 'parts'), path.join(at, 'shelf'));
    const files = [{ oldUri: uri('parts'), newUri: uri('shelf') }];
    await editor.connection.sendNotification('workspace/didRenameFiles', { files });
    await expect
      .poll(() => codes(editor.published.findLast(one => one.uri === uri('a.plant'))?.diagnostics ?? []), patience)
      .not.toContain('missing_file');
  });

  test('editing a part checks the plants again that use it, open or not', async () => {
    const { at, uri } = makeFolder(
      Object.entries({
        'parts/p.plant': sound,
        'a.plant': plant,
        'b.plant': 'use "parts/p.plant"\nlet x = 1,5 kW\n',
      }),
    );
    const editor = await start({ folder: pathToFileURL(at).href });
    await editor.open(uri('parts/p.plant'), sound);
    expect(codes(await editor.diagnosticsOf(uri('b.plant')))).toEqual(['decimal_comma']);
    const before = editor.published.length;
    await editor.change(uri('parts/p.plant'), `${sound}let other = 3 V\n`, 2);
    await expect
      .poll(() => editor.published.slice(before).map(one => one.uri), patience)
      .toEqual(expect.arrayContaining([uri('parts/p.plant'), uri('a.plant'), uri('b.plant')]));
  });

  test('of a plant that nobody has open its errors and warnings are shown, and its notes once it is opened', async () => {
    const hut = `use "parts/p.plant"
plant Hut {}
grid MAIN { voltage = 400 V }
`;
    const { at, uri } = makeFolder(Object.entries({ 'parts/p.plant': sound, 'hut.plant': hut }));
    const editor = await start({ folder: pathToFileURL(at).href });
    await editor.open(uri('parts/p.plant'), sound);
    const severities = async (version?: number) =>
      new Set((await editor.diagnosticsOf(uri('hut.plant'), version)).map(({ severity }) => severity));
    // Errors, warnings, notes: DiagnosticSeverity 1, 2, 3.
    expect(await severities()).toEqual(new Set([1, 2]));
    await editor.open(uri('hut.plant'), hut);
    expect(await severities(1)).toEqual(new Set([1, 2, 3]));
    await editor.connection.sendNotification('textDocument/didClose', { textDocument: { uri: uri('hut.plant') } });
    const last = () => editor.published.findLast(one => one.uri === uri('hut.plant'))?.diagnostics ?? [];
    await expect.poll(() => new Set(last().map(({ severity }) => severity)), patience).toEqual(new Set([1, 2]));
  });
});

describe('what should not happen, and does', () => {
  test('requests about documents that were never opened get an empty answer', async () => {
    const editor = await start();
    const textDocument = { uri: 'file:///nowhere/x.plant' };
    const position = { line: 3, character: 5 };
    const { connection } = editor;
    expect(await connection.sendRequest('textDocument/hover', { textDocument, position })).toBeNull();
    expect(await connection.sendRequest('textDocument/completion', { textDocument, position })).toEqual([]);
    expect(await connection.sendRequest('textDocument/documentSymbol', { textDocument })).toEqual([]);
    expect(await connection.sendRequest('textDocument/formatting', { textDocument, options: {} })).toEqual([]);
    expect(await connection.sendRequest('textDocument/definition', { textDocument, position })).toBeNull();
    expect(
      await connection.sendRequest('wattwright/derivation', { uri: textDocument.uri, name: 'K1.current' }),
    ).toBeNull();
    expect(await connection.sendRequest('wattwright/derivation', 42)).toBeNull();
  });

  test('edits and closing of documents that were never opened are ignored', async () => {
    const editor = await start();
    await editor.change('untitled:Other', comma, 7);
    await editor.close('untitled:Other');
    await editor.open(untitled, comma);
    expect(codes(await editor.diagnosticsOf(untitled, 1))).toEqual(['decimal_comma']);
    expect(editor.published.some(({ uri }) => uri === 'untitled:Other')).toBe(false);
  });

  test('positions outside of the text count as its nearest place', async () => {
    const editor = await start();
    await editor.open(untitled, sound);
    for (const position of [
      { line: 99, character: 0 },
      { line: 0, character: 9999 },
      { line: 0, character: 0 },
    ]) {
      const asked = { textDocument: { uri: untitled }, position };
      await editor.connection.sendRequest('textDocument/hover', asked);
      await editor.connection.sendRequest('textDocument/completion', asked);
      await editor.connection.sendRequest('textDocument/definition', asked);
    }
    expect(editor.log).toEqual([]);
  });

  test('a request for something it does not know is refused, and it goes on', async () => {
    const editor = await start();
    await expect(editor.connection.sendRequest('textDocument/nothingOfTheKind', {})).rejects.toThrow();
    await editor.open(untitled, comma);
    expect(codes(await editor.diagnosticsOf(untitled, 1))).toEqual(['decimal_comma']);
  });

  test('addresses that are not files, and such as can not be read, do no harm', async () => {
    const editor = await start();
    for (const uri of ['file://server/share/x.plant', 'file:///%zz.plant', 'git:/a/x.plant?%7B%7D', 'x']) {
      await editor.open(uri, comma);
      expect(codes(await editor.diagnosticsOf(uri, 1))).toEqual(['decimal_comma']);
    }
  });
});

test('the command serves like the server itself', async () => {
  const editor = await start({ command: ['wattwright.cjs', 'lsp'] });
  await editor.open(untitled, comma);
  expect(codes(await editor.diagnosticsOf(untitled, 1))).toEqual(['decimal_comma']);
  expect(await editor.stop()).toBe(0);
});

test('our own requests: the values of a plant, and the derivation of one', async () => {
  const editor = await start();
  await editor.open(untitled, 'plant P { altitude = 5 m }\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }\n');
  const values = await editor.connection.sendRequest('wattwright/values', { uri: untitled });
  const meaning = expect.stringMatching(/^\p{Lu}.*\.$/u);
  expect(values).toContainEqual({ name: 'MAIN.voltage_low', display: '360 V', meaning });
  // A cursor that makes no sense is none.
  const nowhere = { uri: untitled, position: { line: 'one', character: -1 } };
  expect(await editor.connection.sendRequest('wattwright/values', nowhere)).toEqual(values);
  const asked = { uri: untitled, name: 'MAIN.voltage_low' };
  expect(await editor.connection.sendRequest('wattwright/derivation', asked)).toContain('# MAIN.voltage\\_low of P');
});

test('a hover has links only where the editor can follow them', async () => {
  const text =
    'plant P { altitude = 5 m }\ngrid MAIN { voltage = 400 V, frequency = 50 Hz }\nrequire MAIN.voltage_low >= 350 V\n';
  const asked = { textDocument: { uri: untitled }, position: { line: 2, character: 15 } };
  for (const derivationLinks of [false, true]) {
    const editor = await start({ initializationOptions: { derivationLinks } });
    await editor.open(untitled, text);
    const hover = await editor.connection.sendRequest<{ contents: { value: string } }>('textDocument/hover', asked);
    expect(hover.contents.value).toContain('MAIN');
    expect(hover.contents.value.includes('(command:wattwright.showDerivation?')).toBe(derivationLinks);
  }
});

describe('the end', () => {
  test('shutdown and exit: exit code 0', async () => {
    const editor = await start();
    await editor.open(untitled, comma);
    expect(await editor.stop()).toBe(0);
  });

  test('also in the middle of work', async () => {
    const editor = await start();
    void editor.open(untitled, `${comma.repeat(3000)}`);
    for (let version = 2; version < 40; version += 1)
      void editor.change(untitled, comma.repeat(2000 + version), version);
    expect(await editor.stop()).toBe(0);
  });

  test('requests after shutdown are refused, and end nothing', async () => {
    const editor = await start();
    await editor.open(untitled, comma);
    await editor.connection.sendRequest('shutdown');
    const asked = { textDocument: { uri: untitled }, position: { line: 0, character: 0 } };
    await expect(editor.connection.sendRequest('textDocument/hover', asked)).rejects.toMatchObject({ code: -32600 });
    const exited = new Promise(resolve => editor.process.once('exit', resolve));
    await editor.connection.sendNotification('exit');
    expect(await exited).toBe(0);
  });

  test('the editor goes away without a word: the server ends too', async () => {
    const { child, connection } = startServer();
    const exited = new Promise(resolve => child.once('exit', resolve));
    child.stdin.end();
    expect(await exited).not.toBeNull();
    connection.dispose();
  });
});
