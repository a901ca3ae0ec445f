// The editor's features through the built server: names across files, edits with versions, settings, and no stale finding.
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import type {
  CodeAction,
  CodeLens,
  InlayHint,
  Location,
  SemanticTokens,
  TextDocumentEdit,
  WorkspaceEdit,
} from 'vscode-languageserver/node';
import { analyze } from '../../engine/analyze.ts';
import { makeFolder, start } from '../kit/editors.ts';
import { snapshotOf } from '../kit/feature.ts';
import type { Editor, EditorOptions } from '../kit/language-server.ts';
import { starter } from '../kit/starter.ts';

vi.setConfig({ testTimeout: 60_000 });
const patience = { timeout: 20_000 };

/** The starter on disk, open in an editor that knows versions, annotations, snippets and new files. */
async function openStarter(first: string) {
  const files = starter(first);
  const { address, uri } = makeFolder(files);
  const workspaceEdit = {
    documentChanges: true,
    changeAnnotationSupport: {},
    snippetEditSupport: true,
    resourceOperations: ['create' as const],
  };
  const editor = await start({ folder: address, capabilities: { workspace: { workspaceEdit } } });
  const text = files.get(first)!;
  await editor.open(uri(first), text, 7);
  const ask = <Answer>(method: string, more: object = {}): Promise<Answer> => {
    return editor.connection.sendRequest<Answer>(`textDocument/${method}`, {
      textDocument: { uri: uri(first) },
      ...more,
    });
  };
  return { editor, uri, text, files, ask };
}

function positionOf(text: string, of: string) {
  const before = text.slice(0, text.indexOf(of)).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}

const whole = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };

describe('names across files', () => {
  test('references to a part: in plants that are not open too', async () => {
    const { ask, text, uri } = await openStarter('valley-station.plant');
    const places = await ask<Location[]>('references', {
      position: positionOf(text, 'LfpString'),
      context: { includeDeclaration: true },
    });
    expect(places.map(place => place.uri).sort()).toEqual(
      ['first-draft.plant', 'parts/lfp-string.plant', 'valley-station.plant'].map(uri),
    );
  });

  test('a rename changes all files, with the version of the open one', async () => {
    const { ask, text, uri } = await openStarter('valley-station.plant');
    const edit = await ask<WorkspaceEdit>('rename', { position: positionOf(text, 'LfpString'), newName: 'LfpRack' });
    const changes = edit.documentChanges as TextDocumentEdit[];
    const versions = Object.fromEntries(changes.map(({ textDocument }) => [textDocument.uri, textDocument.version]));
    expect(versions).toEqual({
      [uri('valley-station.plant')]: 7,
      [uri('first-draft.plant')]: null,
      [uri('parts/lfp-string.plant')]: null,
    });
  });

  test('a rename that can’t be is refused with a reason', async () => {
    const { ask, text } = await openStarter('valley-station.plant');
    const asked = ask('rename', { position: positionOf(text, 'LfpString'), newName: 'grid' });
    await expect(asked).rejects.toThrow('word of the language');
    await expect(ask('prepareRename', { position: positionOf(text, 'impedance') })).rejects.toThrow(
      'word of the language',
    );
  });

  test('workspace symbols come from every file of the folder', async () => {
    const { editor, ask } = await openStarter('valley-station.plant');
    await ask('documentSymbol');
    const found = await editor.connection.sendRequest<{ name: string }[]>('workspace/symbol', { query: 'kva' });
    expect(found.map(({ name }) => name).sort()).toEqual(['kva350', 'kva550']);
  });
});

describe('what is shown unasked', () => {
  test('colours, inlay values and lenses; settings turn the last two off', async () => {
    const { editor, ask } = await openStarter('valley-station.plant');
    const { data } = await ask<SemanticTokens>('semanticTokens/full');
    expect(data.length % 5).toBe(0);
    expect(data.length).toBeGreaterThan(200);
    expect((await ask<InlayHint[]>('inlayHint', { range: whole })).length).toBe(5);
    expect((await ask<CodeLens[]>('codeLens')).length).toBeGreaterThan(0);
    const settings = { wattwright: { inlayValues: { enabled: false }, codeLens: { enabled: false } } };
    await editor.connection.sendNotification('workspace/didChangeConfiguration', { settings });
    expect(await ask('inlayHint', { range: whole })).toEqual([]);
    expect(await ask('codeLens')).toEqual([]);
  });

  test('an inlay value leads to its derivation where the editor can show one, and a pick can be written', async () => {
    const hints = async (options: EditorOptions) => {
      const files = starter('valley-station.plant');
      const sound = files.get('valley-station.plant')!.replace('rated_power = 500 kVA', 'rated_power = pick');
      const { address, uri } = makeFolder(new Map([...files, ['valley-station.plant', sound]]));
      const editor = await start({ folder: address, ...options });
      await editor.open(uri('valley-station.plant'), sound);
      const textDocument = { uri: uri('valley-station.plant') };
      const found = await editor.connection.sendRequest<InlayHint[]>('textDocument/inlayHint', {
        textDocument,
        range: whole,
      });
      return { found, sound, uri: textDocument.uri };
    };
    const { found, sound, uri } = await hints({ initializationOptions: { derivationLinks: true } });
    const [picked, loading] = found;
    const { start: from } = picked!.textEdits![0]!.range;
    expect(sound.split('\n')[from.line]!.slice(from.character, from.character + 4)).toBe('pick');
    expect(picked!.textEdits).toEqual([
      { range: { start: from, end: { line: from.line, character: from.character + 4 } }, newText: '630 kVA' },
    ]);
    expect(loading!.label).toMatchObject([
      { command: { command: 'wattwright.showDerivation', arguments: [{ uri, name: 'T1.loading' }] } },
    ]);
    const plain = await hints({});
    expect(plain.found.map(({ label }) => typeof label)).toEqual(plain.found.map(() => 'string'));
  });

  test('folds, selection, links, highlights, signatures, hierarchy have answers', async () => {
    const { ask, text } = await openStarter('valley-station.plant');
    const position = positionOf(text, 'loading <=');
    expect(await ask<unknown[]>('foldingRange')).not.toEqual([]);
    expect(await ask('selectionRange', { positions: [position] })).toMatchObject([{ parent: { parent: {} } }]);
    expect(await ask<unknown[]>('documentLink')).toHaveLength(3);
    expect(await ask<unknown[]>('documentHighlight', { position })).toHaveLength(1);
    expect(await ask('signatureHelp', { position: positionOf(text, ' 400 kW') })).toBeNull();
    expect(await ask('prepareCallHierarchy', { position })).toMatchObject([
      { name: expect.stringContaining('T1.loading = ') },
    ]);
  });
});

describe('actions', () => {
  const actionsAt = async (first: string, of: string, only?: string) => {
    const { ask, text, uri } = await openStarter(first);
    const at = positionOf(text, of);
    const context = { diagnostics: [], ...(only === undefined ? {} : { only: [only] }) };
    const actions = await ask<CodeAction[]>('codeAction', { range: { start: at, end: at }, context });
    return { actions, uri };
  };

  test('extracting into a new file creates it first, and asks', async () => {
    const { actions, uri } = await actionsAt('valley-station.plant', 'filter F1', 'refactor.extract');
    const apart = actions.find(({ title }) => title.includes('file of its own'));
    expect(apart?.edit?.documentChanges?.[0]).toMatchObject({ kind: 'create', uri: uri('parts/filter-f1.plant') });
    expect(Object.values(apart?.edit?.changeAnnotations ?? {})).toMatchObject([{ needsConfirmation: true }]);
    expect(new Set(actions.map(({ kind }) => kind))).toEqual(new Set(['refactor.extract']));
  });

  test('accepting leaves the reason to be written', async () => {
    const { actions } = await actionsAt('first-draft.plant', 'rated_power', 'quickfix');
    const accept = actions.find(({ title }) => title.startsWith('Accept transformer_'));
    expect(accept?.isPreferred).not.toBe(true);
    // biome-ignore lint/suspicious/noTemplateCurlyInString: a snippet's placeholder
    expect(JSON.stringify(accept?.edit)).toContain('because \\"${1:reason}\\"');
    expect(accept?.diagnostics).toHaveLength(1);
  });

  test('a choice says what it decides; only safe fixes are preferred', async () => {
    const { actions } = await actionsAt('first-draft.plant', 'secondary_voltage', 'quickfix');
    const choices = actions.filter(({ edit }) => edit?.changeAnnotations !== undefined);
    expect(choices).not.toEqual([]);
    expect(choices.filter(({ isPreferred }) => isPreferred)).toEqual([]);
  });
});

describe('checking on save only', () => {
  test('findings wait for the save, also when somebody asks in between', async () => {
    const { editor, ask, uri, text } = await openStarter('valley-station.plant');
    const settings = { wattwright: { check: { whileTyping: false } } };
    await editor.connection.sendNotification('workspace/didChangeConfiguration', { settings });
    const file = uri('valley-station.plant');
    await editor.diagnosticsOf(file, 7);
    await editor.change(file, text.replace('400 kW', '0,4 MW'), 8);
    await ask('hover', { position: { line: 3, character: 3 } });
    await ask('inlayHint', { range: whole });
    expect(editor.published.filter(one => one.uri === file && one.version === 8)).toEqual([]);
    await editor.connection.sendNotification('textDocument/didSave', { textDocument: { uri: file } });
    const found = await editor.diagnosticsOf(file, 8);
    expect(found.map(({ code }) => code)).toContain('decimal_comma');
  });
});

test('the status tells plant, counts and the gravest finding', async () => {
  const { editor, uri } = await openStarter('first-draft.plant');
  await editor.diagnosticsOf(uri('first-draft.plant'), 7);
  await expect
    .poll(() => editor.statuses.at(-1), patience)
    .toMatchObject({
      uri: uri('first-draft.plant'),
      plant: 'FirstDraft',
      worst: { severity: 'error', code: 'uncontrolled_charging', page: 'findings/uncontrolled_charging.md' },
    });
});

test('after any row of edits the last findings are those of the last text', async () => {
  const { editor, uri, text, files } = await openStarter('first-draft.plant');
  const file = uri('first-draft.plant');
  const part = 'parts/converters.plant';
  await editor.open(uri(part), files.get(part)!, 1);
  const edits = fc.array(
    fc.record({
      part: fc.boolean(),
      from: fc.constantFrom('400 kW', '400 V', '= 2', 'T1', '850 A', '}', 'converter', 'is', '8 %'),
      to: fc.constantFrom('300 kW', '360 V', '= 4', 'T2', '900 A', '', 'battery', 'pick', '10 %'),
      waits: fc.boolean(),
    }),
    { minLength: 1, maxLength: 8 },
  );
  let version = 10;
  await fc.assert(
    fc.asyncProperty(edits, async row => {
      const now = new Map(files);
      for (const { part: inPart, from, to, waits } of row) {
        const name = inPart ? part : 'first-draft.plant';
        now.set(name, now.get(name)!.replace(from, to));
        version += 1;
        await editor.change(uri(name), now.get(name)!, version);
        if (waits) await editor.connection.sendRequest('textDocument/documentSymbol', { textDocument: { uri: file } });
      }
      const expected = codesIn(now, 'first-draft.plant');
      await expect.poll(() => last(editor, file), patience).toEqual(expected);
      await expect.poll(() => last(editor, uri(part)), patience).toEqual(codesIn(now, part));
      // And they stay: nothing older comes behind.
      await editor.connection.sendRequest('textDocument/documentSymbol', { textDocument: { uri: file } });
      expect(last(editor, file)).toEqual(expected);
      version += 2;
      await editor.change(file, text, version - 1);
      await editor.change(uri(part), files.get(part)!, version);
    }),
    { numRuns: 15, seed: 11 },
  );
  expect(editor.log).toEqual([]);
});

function last(editor: Editor, uri: string) {
  return editor.published
    .findLast(one => one.uri === uri)
    ?.diagnostics.map(({ code, message }) => `${code}: ${message}`)
    .sort();
}

/** What a cold analysis of a file says of that file itself. */
function codesIn(files: ReadonlyMap<string, string>, file: string): readonly string[] {
  const { findings } = analyze(file, snapshotOf(files), { today: today() });
  return findings
    .filter(({ place }) => place.path === file)
    .map(({ code, message, hazard }) => `${code}: ${hazard ? 'Hazard: ' : ''}${message}`)
    .sort();
}

function today(): string {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
