// Findings and what hovering says of them, as the editor itself receives them.
const assert = require('node:assert/strict');
const vscode = require('vscode');
const { closeAll, codeOf, findings, hover, openPlant, pageOf, replace } = require('./kit.cjs');

const has = code => list => list.some(finding => codeOf(finding) === code);

describe('findings', () => {
  afterEach(closeAll);

  it('the first draft charges its battery through the diodes: an error', async () => {
    const document = await openPlant('first-draft.plant');
    const list = await findings(document, has('uncontrolled_charging'));
    const [finding] = list.filter(one => codeOf(one) === 'uncontrolled_charging');
    assert.equal(finding.severity, vscode.DiagnosticSeverity.Error);
    assert.match(finding.message, /\bV\b/, 'the message names voltages');
  });

  it('hovering over the finding shows how its number came about', async () => {
    const document = await openPlant('first-draft.plant');
    const list = await findings(document, has('uncontrolled_charging'));
    const { range } = list.find(one => codeOf(one) === 'uncontrolled_charging');
    const text = await hover(document, range.start);
    assert.match(text, /blocked_peak|√2/);
    assert.match(text, /\d\s*V\b/, 'with numbers put in');
  });

  it('a lower winding voltage makes the finding go', async () => {
    const document = await openPlant('first-draft.plant');
    await findings(document, has('uncontrolled_charging'));
    await replace(document, 'secondary_voltage = 400 V', 'secondary_voltage = 360 V');
    await findings(document, list => !has('uncontrolled_charging')(list));
  });

  it('and raising it again brings the finding back', async () => {
    const document = await openPlant('first-draft.plant');
    await findings(document, has('uncontrolled_charging'));
    await replace(document, 'secondary_voltage = 400 V', 'secondary_voltage = 360 V');
    await findings(document, list => !has('uncontrolled_charging')(list));
    await replace(document, 'secondary_voltage = 360 V', 'secondary_voltage = 400 V');
    await findings(document, has('uncontrolled_charging'));
  });

  it('the page of a derivation follows the text', async () => {
    const document = await openPlant('first-draft.plant');
    await findings(document, has('transformer_loading'));
    const asked = { uri: document.uri.toString(), name: 'T1.loading' };
    await vscode.commands.executeCommand('wattwright.showDerivation', asked);
    await pageOf('wattwright-derivation', text => text.includes('**T1.loading = 117.4 %**'));
    await replace(document, 'rated_power = 400 kVA', 'rated_power = 800 kVA');
    // Half the share on twice the rating, but for the voltage behind a smaller impedance.
    await pageOf('wattwright-derivation', text => /\*\*T1\.loading = 5\d\.\d+ %\*\*/.test(text));
    // What is closed afterwards is the plant, not the page beside it.
    await vscode.window.showTextDocument(document);
  });

  it('the sound plant has no error and no warning', async () => {
    const document = await openPlant('valley-station.plant');
    // A detour over a winding voltage that is too high shows that the silence is not for want of a server.
    await replace(document, 'secondary_voltage = 360 V', 'secondary_voltage = 400 V');
    await findings(document, has('uncontrolled_charging'));
    await replace(document, 'secondary_voltage = 400 V', 'secondary_voltage = 360 V');
    await findings(document, list => list.every(one => one.severity > vscode.DiagnosticSeverity.Warning));
  });
});
