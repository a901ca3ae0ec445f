// Opens the workbench in the browser with the extension loaded, and offers what a person does with eyes and hands.
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { launchBrowser } from './browser.mjs';
import { startWorkbench } from './host.mjs';
import { lineAtCursor, whereIs } from './in-page.mjs';
import { repositoryFolder } from './places.mjs';

const extensionId = 'wattwright.wattwright';
const patience = 60_000;
/** The start alone may take long on a busy machine: server, browser and workbench load at once. */
const startPatience = 90_000;
const suggestion = '.suggest-widget.visible .monaco-list-row';

const copies = [];
process.on('exit', () => {
  for (const copy of copies) rmSync(copy, { recursive: true, force: true });
});

/** A copy of a folder in a temporary place, so that a test may write what it likes; removed at exit. */
export function copyWorkspace(folder) {
  const copy = mkdtempSync(path.join(tmpdir(), 'workspace-'));
  copies.push(copy);
  if (folder) cpSync(folder, copy, { recursive: true });
  return copy;
}

/**
 * Opens `file` (relative to `folder`) and resolves when its text is shown. The extension comes from the folder
 * `extension`, or from the package `vsix`. With `inBrowser` it runs as in an editor that has no computer behind it:
 * itself in a worker of the page, its server in another. `trust`: see startWorkbench. `settings` are user settings;
 * `width`, `height`, `scale` the window's.
 */
export async function openWorkbench(options) {
  const { folder, file, extension = repositoryFolder, vsix, inBrowser = false, trust, ...more } = options;
  const { settings, ...window } = more;
  const extensionKind = inBrowser ? { 'remote.extensionKind': { [extensionId]: ['web'] } } : {};
  const workbench = await startWorkbench({
    vsix: vsix ? [vsix] : [],
    settings: { ...extensionKind, ...settings },
    trust,
  });
  let browser;
  try {
    browser = await launchBrowser(window);
    const { page } = browser;
    page.setDefaultTimeout(patience);
    page.setDefaultNavigationTimeout(startPatience);
    const payload = vsix ? [] : [['extensionDevelopmentPath', workbench.remote(extension)]];
    const opened = file && path.resolve(folder.endsWith('.code-workspace') ? path.dirname(folder) : folder, file);
    await page.goto(workbench.address({ folder, file: opened, payload }));
    await page.locator('.monaco-workbench').waitFor({ timeout: startPatience });
    if (file) await page.locator('.editor-instance .view-line').first().waitFor({ timeout: startPatience });
  } catch (error) {
    await browser?.close();
    await workbench.stop();
    throw error;
  }
  return {
    ...eyesAndHands(browser.page),
    outside: browser.outside,
    async close() {
      await browser.close();
      await workbench.stop();
    },
  };
}

function eyesAndHands(page) {
  const { keyboard, mouse } = page;

  /** Presses keys one after another, named as the driver names them: `Control+End`, `Enter`. */
  async function press(...keys) {
    for (const key of keys) await keyboard.press(key);
  }

  /** Types as a person does: slowly enough for suggestions to follow. */
  async function type(text) {
    await keyboard.type(text, { delay: 30 });
  }

  async function focusEditor() {
    await press('Control+1');
  }

  /** Runs a command by its title in the palette. */
  async function command(title) {
    // The first row is not always the one that is meant: the palette puts what was used lately before.
    const row = page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first();
    // It does not look again by itself: a command of an extension that is still being found comes in with another try.
    for (let tries = 1; ; tries++) {
      await press('F1');
      await page.locator('.quick-input-widget input').first().fill(`>${title}`);
      if (tries === 10 || (await appears(row, patience / 10))) break;
      await press('Escape');
    }
    await row.click();
  }

  /** Puts the cursor at a line and column, counted from 1, and brings it into view. */
  async function goTo(line, column = 1) {
    await focusEditor();
    await press('Control+g');
    await page.locator('.quick-input-widget input').first().fill(`:${line}:${column}`);
    await press('Enter');
    await page.locator('.quick-input-widget').first().waitFor({ state: 'hidden' });
  }

  /** Selects the first occurrence of a text with the editor's own search. */
  async function select(text) {
    await focusEditor();
    await press('Control+Home', 'Control+f');
    await page.locator('.find-widget.visible textarea').first().fill(text);
    await page
      .locator('.find-widget.visible .matchesCount')
      .filter({ hasText: /\d+ of [1-9]/ })
      .waitFor();
    await press('Escape');
  }

  /** Rests the mouse on the first visible occurrence of a text; gives what the hover says once it says `pattern`. */
  async function hover(target, pattern = /\S/) {
    await page.waitForFunction(whereIs, target);
    const hovers = page.locator('.monaco-hover:not(.hidden) .monaco-hover-content').filter({ hasText: /\S/ });
    // The editor's own part comes first, the extension's follows behind it.
    const whole = hovers.filter({ hasText: pattern, hasNotText: 'Loading...' }).first();
    const deadline = Date.now() + patience;
    do {
      // A hover that was asked for before the extension was up may never come: ask again, as a person would.
      const place = await page.evaluate(whereIs, target);
      await mouse.move(place.x, Math.max(place.y - 60, 0));
      await page.waitForTimeout(300);
      await mouse.move(place.x, place.y, { steps: 8 });
      if (!(await appears(whole, 8000))) continue;
      // It may close between the two looks.
      const text = plain((await whole.allInnerTexts()).join(''));
      if (text !== '') return text;
    } while (Date.now() < deadline);
    throw new Error(`No hover on "${target}"; in view: ${await hovers.allInnerTexts()}`);
  }

  /** Does something with the hover on a text; where the hover closes meanwhile, it is opened again. */
  async function inHover(target, pattern, act) {
    const deadline = Date.now() + patience;
    for (;;) {
      try {
        await act(page.locator('.monaco-hover:not(.hidden)'), { timeout: 3000 });
        return;
      } catch (error) {
        if (Date.now() > deadline) throw error;
        await hover(target, pattern);
      }
    }
  }

  /** Takes a link in the hover on a text. */
  async function follow(label, target, pattern) {
    await inHover(target, pattern, async (open, soon) => {
      const link = open.locator('a').filter({ hasText: label }).first();
      await link.scrollIntoViewIfNeeded(soon);
      await link.click(soon);
    });
  }

  /** The page that a preview beside the text shows. */
  function preview() {
    return page.frameLocator('iframe.webview').frameLocator('iframe#active-frame').locator('body');
  }

  /** Opens the list of what can be done at the cursor and takes an entry. */
  async function takeAction(title) {
    const entry = page.locator('.action-widget .monaco-list-row').filter({ hasText: title }).first();
    const deadline = Date.now() + patience;
    do {
      await press('Control+.');
      if (await appears(entry, 5000)) return entry.click();
      await press('Escape');
    } while (Date.now() < deadline);
    throw new Error(`"${title}" is not among what can be done here.`);
  }

  /** Gives the name at the cursor another one. */
  async function rename(name) {
    await press('F2');
    const box = page.locator('.rename-box input');
    await box.waitFor();
    await box.fill(name);
    await press('Enter');
    await box.waitFor({ state: 'hidden' });
  }

  /** What the clipboard holds, once it passes a test. */
  async function clipboard(test) {
    return until(() => page.evaluate(() => navigator.clipboard.readText()), test, 'the clipboard');
  }

  /** Brings a part of the hover on a text, which may be longer than its window, to the top of the window. */
  async function scrollHover(part, target, pattern) {
    await inHover(target, pattern, (open, soon) => {
      const found = open.getByText(part).first();
      return found.evaluate(element => element.scrollIntoView({ block: 'start' }), undefined, soon);
    });
  }

  async function showProblems() {
    if (!(await page.locator('.markers-panel').isVisible())) await press('Control+Shift+M');
    await page.locator('.markers-panel').waitFor();
  }

  /** The rows of the Problems panel that say all of a text or pattern. */
  function problem(text) {
    return page
      .locator('.markers-panel .monaco-list-row')
      .filter({ has: page.locator('.marker-icon') })
      .filter({ hasText: text });
  }

  /** What the status bar counts: it knows of findings that the panel's list has scrolled away. */
  async function counts() {
    const label = (await page.locator('[id="status.problems"] a').getAttribute('aria-label')) ?? '';
    const count = word => Number(new RegExp(`${word}: (\\d+)`).exec(label)?.[1] ?? 0);
    if (!/No Problems|: \d/.test(label)) throw new Error(`The status bar says "${label}".`);
    return { errors: count('Errors'), warnings: count('Warnings'), infos: count('Infos') };
  }

  async function waitForCounts(test, what) {
    const deadline = Date.now() + patience;
    let last;
    while (Date.now() < deadline) {
      last = await counts();
      if (test(last)) return last;
      await page.waitForTimeout(100);
    }
    throw new Error(`Waited for ${what}; the status bar counts ${JSON.stringify(last)}.`);
  }

  /** The labels of the suggestions that are in view, once one of them says `text`. */
  async function suggestions(text) {
    await page.locator(suggestion).filter({ hasText: text }).first().waitFor();
    return labelsInView();
  }

  function labelsInView() {
    return page.locator(`${suggestion} .label-name`).allInnerTexts();
  }

  /** Walks down the suggestions to the one with this label and takes it. */
  async function accept(label, key = 'Tab') {
    const wanted = page.locator(suggestion).filter({ has: page.locator('.label-name', { hasText: exactly(label) }) });
    const deadline = Date.now() + patience;
    while (!(await appears(wanted.first(), 2000))) {
      if (Date.now() > deadline) throw new Error(`"${label}" is not suggested; in view: ${await labelsInView()}`);
      // The list may have been asked for before the extension was up: ask again, as a person would.
      await closeSuggestions();
      await press('Control+Space');
    }
    for (let step = 0; step < 60; step++) {
      if (
        await page
          .locator(`${suggestion}.focused .label-name`)
          .filter({ hasText: exactly(label) })
          .count()
      ) {
        await press(key);
        await page
          .locator('.suggest-widget.visible')
          .waitFor({ state: 'hidden' })
          .catch(() => {});
        return;
      }
      await press('ArrowDown');
      await page.waitForTimeout(30);
    }
    throw new Error(`"${label}" is among the suggestions, but cannot be reached.`);
  }

  /** Closes the suggestions if they are open; unlike Escape alone it never leaves a snippet's placeholders. */
  async function closeSuggestions() {
    // Suggestions follow typing after a moment.
    await page.waitForTimeout(300);
    if (await page.locator('.suggest-widget.visible').isVisible()) await press('Escape');
  }

  /** Types over the placeholder in which the cursor stands, and clears what the placeholder leaves behind on the line. */
  async function fill(text) {
    await type(text);
    await closeSuggestions();
    const line = await until(currentLine, now => now.includes(text), `"${text}" on the line`);
    const rest = line.slice(line.indexOf(text) + text.length);
    // Selecting it would leave the placeholder, and with it the way to the next one.
    if (/[^\s{}]/.test(rest)) for (const _character of rest) await press('Delete');
  }

  async function nextPlaceholder() {
    const before = await cursor();
    const moved = async () => (await cursor()) !== before;
    const deadline = Date.now() + patience;
    do {
      // A suggestion that came later still takes the key for itself: press again, as a person would.
      await closeSuggestions();
      await press('Tab');
      if (await within(3000, moved)) return;
    } while (Date.now() < deadline);
    throw new Error(`The cursor stays in its placeholder at ${before}.`);
  }

  async function within(time, test) {
    const deadline = Date.now() + time;
    while (Date.now() < deadline) {
      if (await test()) return true;
      await page.waitForTimeout(30);
    }
    return false;
  }

  /** The cursor's line and column, as the status bar tells them. */
  async function cursor() {
    return (await page.locator('[id="status.editor.selection"]').textContent()).replace(/ \(.*/, '');
  }

  async function until(look, test, what) {
    const deadline = Date.now() + patience;
    for (;;) {
      const now = await look();
      if (test(now)) return now;
      if (Date.now() > deadline) throw new Error(`Waited for ${what}; it is "${now}".`);
      await page.waitForTimeout(50);
    }
  }

  async function newLine() {
    await closeSuggestions();
    await press('End', 'Enter');
  }

  /** The text of the line in which the cursor stands. */
  async function currentLine() {
    // The cursor is drawn a moment after the key.
    await page.waitForTimeout(100);
    return plain(await page.evaluate(lineAtCursor));
  }

  /** Saves the file and waits until the editor shows it as saved. */
  async function save() {
    await press('Control+s');
    await page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
  }

  async function shot(file) {
    mkdirSync(path.dirname(path.resolve(file)), { recursive: true });
    await page.screenshot({ path: file });
  }

  return {
    page,
    press,
    type,
    command,
    goTo,
    select,
    hover,
    scrollHover,
    follow,
    preview,
    takeAction,
    rename,
    clipboard,
    focusEditor,
    showProblems,
    problem,
    counts,
    waitForCounts,
    suggestions,
    accept,
    fill,
    nextPlaceholder,
    newLine,
    closeSuggestions,
    currentLine,
    save,
    shot,
  };
}

/** Whether something becomes visible within a time. */
async function appears(locator, timeout) {
  return locator.waitFor({ timeout }).then(
    () => true,
    () => false,
  );
}

function exactly(label) {
  return new RegExp(`^${label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`);
}

function plain(text) {
  return text.replaceAll('\u00a0', ' ');
}
