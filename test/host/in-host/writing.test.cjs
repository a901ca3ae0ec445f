// What helps while writing: suggestions, layout, outline, as the editor itself receives them.
const assert = require('node:assert/strict');
const vscode = require('vscode');
const { closeAll, format, openPlant, openText, replace, suggestions, textOf } = require('./kit.cjs');

const kinds = ['grid', 'transformer', 'filter', 'converter', 'battery', 'cable'];

describe('writing', () => {
  afterEach(closeAll);

  it('a .plant file is of the language "plant"', async () => {
    const document = await openPlant('valley-station.plant');
    assert.equal(document.languageId, 'plant');
    // One of the high-contrast themes leaves it off, and with it what marks a hazard.
    const settings = vscode.workspace.getConfiguration('editor', document);
    assert.equal(settings.get('semanticHighlighting.enabled'), true);
  });

  it('an empty file is offered the kinds of component', async () => {
    const { document, cursor } = await openText('empty.plant', '|');
    const labels = await suggestions(document, cursor);
    for (const kind of [...kinds, 'duty', 'plant', 'connect']) assert.ok(offers(labels, kind), `${kind} in ${labels}`);
  });

  it('a block is offered what it lacks, and not what it has', async () => {
    const { document, cursor } = await openText('block.plant', 'transformer T1 {\n  impedance = 6 %\n  |\n}\n');
    const labels = await suggestions(document, cursor);
    assert.ok(offers(labels, 'rated_power'), `rated_power in ${labels}`);
    assert.ok(!offers(labels, 'impedance'), `no impedance in ${labels}`);
    assert.ok(!offers(labels, 'cross_section'), `no property of a cable in ${labels}`);
  });

  it('a number is offered units of the dimension that is wanted', async () => {
    const { document, cursor } = await openText('unit.plant', 'transformer T1 {\n  rated_power = 500 |\n}\n');
    const labels = await suggestions(document, cursor);
    assert.ok(labels.includes('kVA'), `kVA in ${labels}`);
    for (const other of ['V', 'kV', 'm', 'A']) assert.ok(!labels.includes(other), `no ${other} in ${labels}`);
  });

  it('the layout is one, and laying out twice changes nothing', async () => {
    const messy = 'transformer T1   {\nrated_power=500 kVA\n      secondary_voltage   =   360 V\n}\n';
    const { document } = await openText('messy.plant', messy);
    const once = await format(document);
    assert.match(once, /^transformer T1 \{\n {2}rated_power = 500 kVA\n {2}secondary_voltage = 360 V\n\}\n$/);
    assert.equal(await format(document), once);
  });

  it('a line end lays out what stands above it, unless a setting says otherwise', async () => {
    const untidy = 'grid   MAIN {\n  voltage=400 V|\n}\n';
    const { document, cursor } = await openText('typed.plant', untidy);
    vscode.window.activeTextEditor.selection = new vscode.Selection(cursor, cursor);
    await vscode.commands.executeCommand('type', { text: '\n' });
    await textOf(document, text => text === 'grid MAIN {\n  voltage = 400 V\n  \n}\n');
    const now = vscode.window.activeTextEditor.selection.active;
    assert.deepEqual([now.line, now.character], [2, 2], 'the cursor stays in its line');
    // One step back is the layout alone, and what was typed is there still.
    await vscode.commands.executeCommand('undo');
    await textOf(document, text => text === 'grid   MAIN {\n  voltage=400 V\n  \n}\n');
  });

  it('Enter behind a whole word ends the line, though the word is suggested', async () => {
    const document = await openPlant('valley-station.plant');
    const settings = vscode.workspace.getConfiguration('editor', document);
    assert.equal(settings.get('acceptSuggestionOnEnter'), 'smart');
  });

  it('the sound plant is laid out already: only what was disturbed is put back', async () => {
    const document = await openPlant('valley-station.plant');
    const before = document.getText();
    await replace(document, 'secondary_voltage = 360 V', 'secondary_voltage   =   360 V');
    assert.equal(await format(document), before);
  });

  it('the outline lists the components', async () => {
    const document = await openPlant('valley-station.plant');
    const symbols = await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', document.uri);
    const names = symbols.flatMap(symbol => [symbol, ...(symbol.children ?? [])]).map(symbol => symbol.name);
    assert.ok(
      names.some(name => /\bT1\b/.test(name)),
      `T1 in ${names}`,
    );
  });
});

/** A label may carry a tag or a sample after the word: "transformer", "transformer T1 { … }". */
function offers(labels, word) {
  return labels.some(label => label === word || label.startsWith(`${word} `));
}
