const assert = require('node:assert/strict');
const vscode = require('vscode');
const { openPlant } = require('./kit.cjs');
describe('zzderivation', () => {
  it('opens', async () => {
    const document = await openPlant('valley-station.plant');
    await new Promise(r => setTimeout(r, 3000));
    const hovers = await vscode.commands.executeCommand('vscode.executeHoverProvider', document.uri, new vscode.Position(26, 4));
    console.log('HOVER', hovers[0].contents[0].isTrusted, hovers[0].contents[0].value.slice(0, 300));
    await vscode.commands.executeCommand('wattwright.showDerivation', { uri: document.uri.toString(), name: 'K1.diode_margin' });
    await new Promise(r => setTimeout(r, 2000));
    console.log('TABS', vscode.window.tabGroups.all.flatMap(g => g.tabs.map(t => t.label)).join(' | '));
    const page = vscode.workspace.textDocuments.find(d => d.uri.scheme === 'wattwright-derivation');
    console.log('PAGE', page?.getText().slice(0, 400));
    await vscode.commands.executeCommand('wattwright.restartServer');
    console.log('RESTARTED');
  });
});
