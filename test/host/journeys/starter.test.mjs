// An empty window, as the walkthrough finds it: the starter is put into a folder, and its first draft is there to read.
import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { copyWorkspace, openWorkbench } from '../workbench.mjs';
import { breakOffAtFailure, product } from './product.mjs';

for (const inBrowser of [false, true]) {
  describe(`journey: the starter, with the server as a ${inBrowser ? 'worker' : 'process'}`, function () {
    this.timeout(180_000);
    let editor;
    let folder;

    before(async () => {
      folder = copyWorkspace();
      editor = await openWorkbench({ folder, inBrowser, ...product.source });
    });

    after(() => editor?.close());

    breakOffAtFailure(`starter-${inBrowser ? 'worker' : 'process'}`, () => editor);

    it('opens with the draft that has the mistakes', async () => {
      await editor.command('Wattwright: Open Starter Workspace');
      await editor.page.getByText('Folder for the starter workspace').waitFor();
      await editor.press('Enter');
      await editor.page.locator('.tab.active', { hasText: 'first-draft.plant' }).waitFor();
      await editor.waitForCounts(({ errors }) => errors > 0, 'the errors of the first draft');
      for (const name of ['first-draft.plant', 'valley-station.plant', 'parts/lfp-string.plant'])
        assert(existsSync(path.join(folder, 'plant-starter', name)), `${name} is not there`);
    });
  });
}
