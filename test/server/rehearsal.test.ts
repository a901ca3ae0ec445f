// What the server rehearses by itself while nobody asks for anything, and that nobody else notices.
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, test, vi } from 'vitest';
// Installs what the library needs, as the process of the server does.
import 'vscode-languageserver/node';
import { emptyEnvironment } from '../../server/addresses.ts';
import { createRehearsal } from '../../server/rehearsal.ts';
import { rehearsalPlant } from '../../server/rehearsal-plant.ts';
import { openStage, type Stage } from '../../server/rehearsal-stage.ts';
import { startServer } from '../../server/server.ts';
import { start } from '../kit/editors.ts';
import { analysed, edited } from '../kit/plants.ts';

vi.setConfig({ testTimeout: 60_000 });
const patience = { timeout: 30_000 };
const uri = 'untitled:valley';
const plant = rehearsalPlant;

test('its plant holds: what is rehearsed is what a sound plant needs', () => {
  const { findings } = analysed(rehearsalPlant).analysis;
  expect(findings.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
});

test('every number of its plant is edited, and the answers come as from any server', async () => {
  const stage = await openStage(connection => startServer(connection, emptyEnvironment));
  await stage.open();
  expect(stage.numbers.length).toBeGreaterThan(50);
  for (const spot of stage.numbers) {
    await stage.edit(spot, String((Number(spot.digit) + 1) % 10));
    await stage.edit(spot, spot.digit);
  }
  expect(stage.names.length).toBeGreaterThan(10);
  for (const at of stage.names) expect(await stage.hover(at)).toMatchObject({ contents: { kind: 'markdown' } });
  expect(await stage.complete()).toContainEqual(expect.objectContaining({ label: 'no_load_current' }));
  await stage.pause();
  await stage.close();
  expect(stage.complaints).toEqual([]);
});

describe('it gives way', () => {
  const log = () => ({ debug: vi.fn(), error: vi.fn() });
  /** Counts what is played on it; each act takes a millisecond. */
  function countingStage() {
    const played = { acts: 0, closed: false };
    const act = async () => {
      played.acts += 1;
      await pause(1);
    };
    const numbers = [{ at: { line: 0, character: 0 }, digit: '4' }];
    const names = [{ line: 0, character: 0 }];
    const close = async () => {
      played.closed = true;
    };
    const stage: Stage = {
      numbers,
      names,
      complaints: [],
      open: act,
      edit: act,
      hover: act,
      complete: act,
      pause: act,
      close,
    };
    return { stage, played };
  }

  test('begins once the editor is quiet, pauses while it is not, and goes on', async () => {
    const { stage, played } = countingStage();
    const rehearsal = createRehearsal(async () => stage, log());
    rehearsal.begin();
    await pause(30);
    expect(played.acts).toBe(0);
    await expect.poll(() => played.acts, patience).toBeGreaterThan(3);
    rehearsal.heard();
    await pause(20);
    const paused = played.acts;
    await pause(30);
    expect(played.acts).toBe(paused);
    await expect.poll(() => played.acts, patience).toBeGreaterThan(paused);
    rehearsal.stop();
    await expect.poll(() => played.closed, patience).toBe(true);
  });

  test('ends by itself, and says in the log what it was', async () => {
    const { stage, played } = countingStage();
    const said = log();
    createRehearsal(async () => stage, said).begin();
    await expect.poll(() => played.closed, patience).toBe(true);
    expect(said.debug.mock.calls).toEqual([[expect.stringMatching(/^Rehearsed \d+ times, 2\d\d\d ms$/)]]);
    expect(said.error).not.toHaveBeenCalled();
  });

  test('an exception ends it, and stands in the log', async () => {
    const said = log();
    createRehearsal(() => Promise.reject(new Error('no stage')), said).begin();
    await expect.poll(() => said.error.mock.calls, patience).toEqual([['The rehearsal failed: Error: no stage']]);
  });
});

describe('the built server', () => {
  test('rehearses after the first findings; nothing of it reaches the editor', async () => {
    const editor = await start();
    await editor.open(uri, plant);
    await expect.poll(() => editor.debugLog, patience).toEqual([expect.stringMatching(/^Rehearsed \d+ times/)]);
    expect(new Set(editor.published.map(one => one.uri))).toEqual(new Set([uri]));
    expect(new Set(editor.statuses.map(one => one.uri))).toEqual(new Set([uri]));
    expect(editor.log).toEqual([]);
  });

  test('it rests while somebody types in the middle of it, and what is typed is answered as ever', async () => {
    const editor = await start();
    await editor.open(uri, plant);
    await editor.diagnosticsOf(uri, 1);
    await pause(200);
    // For longer than the whole rehearsal would last.
    for (let version = 2; version < 60; version++) {
      await pause(50);
      await editor.change(uri, edited(plant, ['strings = 4', `strings = ${4 + (version % 3)}`]), version);
      await editor.diagnosticsOf(uri, version);
    }
    expect(editor.debugLog).toEqual([]);
    await editor.change(uri, plant, 60);
    const fresh = await start();
    await fresh.open(uri, plant);
    expect(await editor.diagnosticsOf(uri, 60)).toEqual(await fresh.diagnosticsOf(uri, 1));
  });

  test('goes when it is told to, in the middle of it', async () => {
    const editor = await start();
    await editor.open(uri, plant);
    await editor.diagnosticsOf(uri, 1);
    await pause(200);
    expect(await editor.stop()).toBe(0);
    expect(editor.debugLog).toEqual([]);
  });
});
