// A first draft is opened, its worst finding is seen and understood, and a typed change makes it go.
import assert from 'node:assert/strict';
import path from 'node:path';
import { shotsFolder } from '../places.mjs';
import { copyWorkspace, openWorkbench } from '../workbench.mjs';
import { breakOffAtFailure, product } from './product.mjs';

const code = 'uncontrolled_charging';
const voltageBefore = '400 V';
const voltageAfter = '360 V';

describe('journey: the draft', function () {
  this.timeout(180_000);
  let editor;

  before(async () => {
    const folder = copyWorkspace(product.starter);
    editor = await openWorkbench({ folder, file: 'first-draft.plant', ...product.source });
  });

  after(() => editor?.close());

  breakOffAtFailure('draft', () => editor);

  it('shows the finding in the Problems panel', async () => {
    await editor.showProblems();
    await editor.problem(code).first().waitFor();
    assert.ok((await editor.counts()).errors >= 1);
  });

  it('shows on hovering how the number came about', async () => {
    // Taking the row leads to the place that causes the finding.
    await editor.problem(code).first().dblclick();
    const text = await editor.hover('secondary_voltage');
    assert.match(text, /blocked_peak|√2/);
    await editor.scrollHover(/blocked_peak|√2/);
    await editor.shot(path.join(shotsFolder, 'draft-1-hover.png'));
    assert.match(text, /\d\s*V\b/);
    await editor.press('Escape');
  });

  it('lets the finding go when another winding voltage is typed', async () => {
    await editor.problem(code).first().waitFor();
    const { errors } = await editor.counts();
    await editor.select(`secondary_voltage = ${voltageBefore}`);
    await editor.press('ArrowRight');
    for (const _character of voltageBefore) await editor.press('Backspace');
    await editor.type(voltageAfter);
    await editor.press('Escape');
    await editor.waitForCounts(now => now.errors < errors, `fewer than ${errors} errors`);
    await editor.problem(code).first().waitFor({ state: 'detached' });
    await editor.press('Escape');
    await editor.shot(path.join(shotsFolder, 'draft-2-gone.png'));
  });

  it('asks nothing of the outside world', () => {
    assert.deepEqual([...editor.outside], []);
  });
});
