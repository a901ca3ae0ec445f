// A plant under version control: the page of what changed stands beside the text, in half a window, and follows an edit
// and a commit. Then the folder of its parts gets another name in the explorer.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { shotsFolder } from '../places.mjs';
import { copyWorkspace, openWorkbench } from '../workbench.mjs';
import { breakOffAtFailure, product } from './product.mjs';

const file = 'valley-station.plant';
const nothing = 'No result and no finding changes.';

describe('journey: what changed', function () {
  this.timeout(180_000);
  let editor;
  let folder;
  const shot = title => editor.shot(path.join(shotsFolder, `changes-${title}.png`));
  const lineOf = text => {
    const lines = readFileSync(path.join(folder, file), 'utf8').split('\n');
    return lines.findIndex(line => line.includes(text)) + 1;
  };
  const page = text => editor.preview().getByText(text).first().waitFor();

  before(async () => {
    folder = copyWorkspace(product.starter);
    git(folder, 'init', '--quiet');
    commit(folder);
    const settings = { 'git.enabled': true, 'workbench.editor.enablePreview': false };
    editor = await openWorkbench({ folder, file, width: 1280, height: 900, settings, ...product.source });
    await editor.showProblems();
    await editor.waitForCounts(({ infos }) => infos > 0, 'the notes of the station');
    await editor.press('Control+Shift+M', 'Control+b');
  });

  after(() => editor?.close());

  breakOffAtFailure('changes', () => editor);

  it('tells beside the text that nothing has changed yet', async () => {
    await editor.focusEditor();
    await editor.command('Wattwright: Show What Changed Since the Last Commit');
    await page(nothing);
  });

  it('follows an edit', async () => {
    await editor.goTo(lineOf('secondary_voltage = 360 V'), '  secondary_voltage = 3'.length + 1);
    await editor.press('Shift+ArrowRight');
    await editor.type('8');
    await page('1 new hazard, 1 new error');
    await page('diode_margin');
  });

  it('fits into half a window', async () => {
    const widths = await editor.preview().evaluate(body => {
      const { scrollWidth, clientWidth } = body.ownerDocument.documentElement;
      const tables = [...body.querySelectorAll('table')];
      const sticksOut = tables.filter(table => table.scrollWidth > table.parentElement.clientWidth);
      return { scrollWidth, clientWidth, tables: tables.length, sticksOut: sticksOut.length };
    });
    assert.ok(widths.clientWidth <= 640 && widths.tables > 0, JSON.stringify(widths));
    assert.equal(widths.scrollWidth, widths.clientWidth);
    assert.equal(widths.sticksOut, 0);
    await shot('1-edit');
  });

  it('follows a commit', async () => {
    await editor.focusEditor();
    await editor.save();
    commit(folder);
    await page(nothing);
  });

  it('finds the parts when their folder gets another name', async () => {
    const { page: window } = editor;
    const row = window.locator('.explorer-folders-view .monaco-list-row', { hasText: 'parts' });
    const before = await editor.counts();
    await editor.command('File: Focus on Files Explorer');
    await row.click();
    await row.press('F2');
    await window.locator('.explorer-folders-view .monaco-list-row input').fill('shelf');
    await editor.press('Enter');
    await window.getByRole('button', { name: 'OK' }).click();
    await window.locator('.explorer-folders-view .monaco-list-row', { hasText: 'shelf' }).waitFor();
    await editor.focusEditor();
    // The draft, which nobody has open, follows too: the editor opens it behind the plant as long as it is not saved.
    const follows = name => readFileSync(path.join(folder, name), 'utf8').includes('use "shelf/converters.plant"');
    while (![file, 'first-draft.plant'].every(follows)) {
      await editor.command('File: Save All Files');
      await window.waitForTimeout(500);
    }
    await editor.command('View: Close Other Editors in Group');
    // The plant was read anew under its new paths, and comes to the same.
    await page('Nothing is worse.');
    await page('What was changed');
    await editor.waitForCounts(now => JSON.stringify(now) === JSON.stringify(before), 'the same findings as before');
    await shot('2-renamed');
  });
});

function commit(folder) {
  git(folder, 'add', '--all');
  git(
    folder,
    '-c',
    'user.name=Nobody',
    '-c',
    'user.email=nobody@example.invalid',
    'commit',
    '--quiet',
    '-m',
    'As it is',
  );
}

function git(folder, ...words) {
  execFileSync('git', words, { cwd: folder, stdio: ['ignore', 'pipe', 'inherit'] });
}
