// What the tests inside the extension host share: opening plants, waiting for findings, asking for suggestions.
const assert = require('node:assert/strict');
const fs = require('node:fs');
const vscode = require('vscode');

const patience = 30_000;

/** Opens a file of the sample workspace and shows it. */
exports.openPlant = async name => show(uriOf(name));

/**
 * Writes a plant into the workspace and opens it; `|` marks the cursor and is taken out.
 * Gives the document and the cursor's position.
 */
exports.openText = async (name, marked) => {
  const at = marked.indexOf('|');
  const uri = uriOf(name);
  fs.writeFileSync(uri.fsPath, marked.replace('|', ''));
  const document = await show(uri);
  return { document, cursor: document.positionAt(Math.max(at, 0)) };
};

/** Closes all editors and drops what was not saved, so that the next test meets the files as they lie on the disk. */
exports.closeAll = async () => {
  await vscode.commands.executeCommand('workbench.action.files.revert');
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
};

/** Waits until a document's findings pass a test, and gives them. */
exports.findings = async (document, test = list => list.length > 0) => {
  const passed = () => {
    const list = vscode.languages.getDiagnostics(document.uri);
    return test(list) ? list : undefined;
  };
  return until(
    passed,
    () => `findings: ${vscode.languages.getDiagnostics(document.uri).map(exports.codeOf).join(', ')}`,
  );
};

/** Waits until a page of a scheme, read-only and shown as a preview, says what passes a test. */
exports.pageOf = async (scheme, test) => {
  const texts = () =>
    vscode.workspace.textDocuments.filter(({ uri }) => uri.scheme === scheme).map(page => page.getText());
  return until(
    () => texts().find(test),
    () => `a page of ${scheme}: ${texts().join('\n')}`,
  );
};

/** Waits until a document's text passes a test. */
exports.textOf = async (document, test) =>
  until(
    () => (test(document.getText()) ? true : undefined),
    () => `the text is ${JSON.stringify(document.getText())}`,
  );

/** A finding's code; it stands beside a link where the code has a page. */
exports.codeOf = finding => (typeof finding.code === 'object' ? finding.code.value : finding.code);

/** The labels of what the extension suggests; the editor's own guesses from words in open files are left out. */
exports.suggestions = async (document, position) => {
  const list = await vscode.commands.executeCommand('vscode.executeCompletionItemProvider', document.uri, position);
  return list.items
    .filter(item => item.kind !== vscode.CompletionItemKind.Text)
    .map(item => (typeof item.label === 'string' ? item.label : item.label.label));
};

/** All that hovering over a position says, as one text. */
exports.hover = async (document, position) => {
  const hovers = await vscode.commands.executeCommand('vscode.executeHoverProvider', document.uri, position);
  return hovers.flatMap(hover => hover.contents.map(part => (typeof part === 'string' ? part : part.value))).join('\n');
};

/** Replaces the only occurrence of a text, as an editor's action would. */
exports.replace = async (document, before, after) => {
  const offset = document.getText().indexOf(before);
  assert.ok(offset >= 0, `"${before}" is not in ${document.uri.path}`);
  assert.equal(document.getText().indexOf(before, offset + 1), -1, `"${before}" stands more than once`);
  const edit = new vscode.WorkspaceEdit();
  edit.replace(
    document.uri,
    new vscode.Range(document.positionAt(offset), document.positionAt(offset + before.length)),
    after,
  );
  assert.ok(await vscode.workspace.applyEdit(edit));
};

/** Formats a document and gives its text. No edits may mean no formatter: a test has to see a change as well. */
exports.format = async document => {
  const options = { tabSize: 2, insertSpaces: true };
  const edits = await vscode.commands.executeCommand('vscode.executeFormatDocumentProvider', document.uri, options);
  if (edits?.length) {
    const edit = new vscode.WorkspaceEdit();
    edit.set(document.uri, edits);
    assert.ok(await vscode.workspace.applyEdit(edit));
  }
  return document.getText();
};

function uriOf(name) {
  const [folder] = vscode.workspace.workspaceFolders;
  return vscode.Uri.joinPath(folder.uri, name);
}

async function show(uri) {
  const document = await vscode.workspace.openTextDocument(uri);
  await vscode.window.showTextDocument(document);
  return document;
}

async function until(probe, describe) {
  const deadline = Date.now() + patience;
  while (Date.now() < deadline) {
    const value = await probe();
    if (value !== undefined) return value;
    await new Promise(resolve => setTimeout(resolve, 50));
  }
  throw new Error(`Not reached within ${patience / 1000} s; ${describe()}`);
}
