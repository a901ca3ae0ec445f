// A first draft is opened, its worst finding is seen, its derivation followed, a fix applied; then a part is renamed.
// On a computer and in an editor that lives in a browser, both times in a folder that nobody has said to trust.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { shotsFolder } from '../places.mjs';
import { copyWorkspace, openWorkbench } from '../workbench.mjs';
import { breakOffAtFailure, product } from './product.mjs';

const code = 'uncontrolled_charging';
const fix = 'Lower the secondary voltage to 360 V';

journey('on a computer', { trust: false }, /^Host: Node \d/m);
journey('in a browser', { trust: false, inBrowser: true }, /^Host: browser worker\b/m);

function journey(where, options, host) {
  const name = `draft-${where.replaceAll(' ', '-')}`;

  describe(`journey: the draft, ${where}`, function () {
    this.timeout(180_000);
    let editor;
    let folder;
    const shot = title => editor.shot(path.join(shotsFolder, `${name}-${title}.png`));

    before(async () => {
      folder = copyWorkspace(product.starter);
      editor = await openWorkbench({ folder, file: 'first-draft.plant', ...product.source, ...options });
    });

    after(() => editor?.close());

    breakOffAtFailure(name, () => editor);

    it('shows the finding in the Problems panel', async () => {
      await editor.showProblems();
      // The extension starts while the workbench itself still loads.
      await editor.problem(code).first().waitFor({ timeout: 150_000 });
      assert.ok((await editor.counts()).errors >= 1);
    });

    it('tells where it runs, for a report', async () => {
      await editor.command('Wattwright: Copy Environment for a Report');
      const text = await editor.clipboard(now => now.startsWith('Wattwright'));
      assert.match(text, host);
      assert.match(text, /^Language server: Running$/m);
      assert.match(text, /^Workspace: \S+, not trusted$/m);
      await editor.command('Notifications: Clear All Notifications');
    });

    it('shows on hovering how the number came about', async () => {
      // Taking the row leads to the place that causes the finding.
      await editor.problem(code).first().dblclick();
      const text = await editor.hover('secondary_voltage', /K1\.blocked_peak/);
      assert.match(text, /√2/);
      assert.match(text, /\d\s*V\b/);
      await editor.scrollHover(/K1\.diode_margin/, 'secondary_voltage', /K1\.blocked_peak/);
      await shot('1-hover');
    });

    it('leads on to the whole derivation', async () => {
      await editor.follow('The whole derivation', 'secondary_voltage', /K1\.blocked_peak/);
      const page = editor.preview();
      await page.getByText('K1.blocked_peak').first().waitFor();
      const text = await page.textContent();
      assert.match(text, /K1\.diode_margin of FirstDraft/);
      assert.match(text, /MAIN\.voltage/, 'down to a stated fact');
      assert.match(text, /licensed engineer/);
      await editor.press('Escape');
      await editor.page.mouse.move(0, 0);
      await editor.page.locator('.monaco-hover:not(.hidden)').first().waitFor({ state: 'hidden' });
      await shot('2-derivation');
      await editor.command('View: Close All Editors in Group');
    });

    it('lets the finding go when its fix is taken', async () => {
      const { errors } = await editor.counts();
      await editor.select('secondary_voltage = 400 V');
      await editor.press('ArrowLeft');
      await editor.takeAction(fix);
      await editor.waitForCounts(now => now.errors < errors, `fewer than ${errors} errors`);
      await editor.problem(code).first().waitFor({ state: 'detached' });
      await editor.save();
      assert.match(readFileSync(path.join(folder, 'first-draft.plant'), 'utf8'), /secondary_voltage = 360 V/);
      await shot('3-gone');
    });

    it('gives a part another name in every file', async () => {
      const before = await editor.counts();
      await editor.select('LfpString');
      await editor.press('ArrowLeft');
      await editor.rename('LfpRack');
      const files = ['first-draft.plant', 'valley-station.plant', 'parts/lfp-string.plant'];
      const text = file => readFileSync(path.join(folder, file), 'utf8');
      await editor.command('File: Save All Files');
      const deadline = Date.now() + 30_000;
      while (!files.every(file => text(file).includes('LfpRack')) && Date.now() < deadline) {
        await editor.page.waitForTimeout(100);
      }
      for (const file of files) {
        assert.match(text(file), /\bLfpRack\b/);
        assert.doesNotMatch(text(file), /\bLfpString\b/);
      }
      await editor.waitForCounts(
        now => now.errors === before.errors && now.warnings === before.warnings,
        'the same findings under the new name',
      );
    });

    it('asks nothing of the outside world', () => {
      assert.deepEqual([...editor.outside], []);
    });
  });
}
