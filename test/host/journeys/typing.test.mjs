// Somebody who knows the language types a plant by hand, blanks as they come, and takes no suggestion: Enter ends the
// line even while a suggestion shows, and what stands above the cursor is laid out on the way.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { whereIs } from '../in-page.mjs';
import { copyWorkspace, openWorkbench } from '../workbench.mjs';
import { breakOffAtFailure, product } from './product.mjs';

const file = 'by-hand.plant';

describe('journey: typing by hand', function () {
  this.timeout(180_000);
  let editor;
  let onDisk;

  before(async () => {
    const folder = copyWorkspace();
    onDisk = path.join(folder, file);
    writeFileSync(onDisk, 'grid\n');
    editor = await openWorkbench({ folder, file, ...product.source });
    // Suggestions that come unasked come only once the extension is up.
    await editor.waitForCounts(({ errors }) => errors > 0, 'a component without a tag');
    await editor.focusEditor();
    await editor.press('Control+a', 'Delete');
  });

  after(() => editor?.close());

  breakOffAtFailure('typing', () => editor);

  it('ends a line with Enter while the unit that was typed is suggested', async () => {
    await editor.type('grid   MAIN {');
    await editor.press('Enter');
    await editor.type('voltage=400 ');
    // What is suggested for the number may be in the way of what is suggested for the unit: write it until it comes.
    const unit = editor.page.locator('.suggest-widget.visible .monaco-list-row.focused', { hasText: /^V/ });
    for (;;) {
      await editor.closeSuggestions();
      await editor.type('V');
      const comes = unit.waitFor({ timeout: 3000 });
      if (
        await comes.then(
          () => true,
          () => false,
        )
      )
        break;
      await editor.press('Backspace');
    }
    await editor.press('Enter');
    assert.equal((await editor.currentLine()).trim(), '');
  });

  it('lays out what stands above, also in the declaration before', async () => {
    await editor.type('frequency  =50 Hz');
    // Behind the brace that the editor has put in; whatever is suggested meanwhile goes.
    await editor.press('Control+End', 'Enter', 'Enter');
    await editor.type('let  a=3 V');
    await editor.press('Control+End', 'Enter');
    for (const line of ['grid MAIN {', '  voltage = 400 V', '  frequency = 50 Hz', 'let a = 3 V']) {
      await editor.page.waitForFunction(whereIs, line);
    }
    await editor.save();
    assert.equal(
      readFileSync(onDisk, 'utf8'),
      'grid MAIN {\n  voltage = 400 V\n  frequency = 50 Hz\n}\n\nlet a = 3 V\n',
    );
  });
});
