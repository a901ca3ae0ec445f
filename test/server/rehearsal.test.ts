// What the server rehearses by itself while nobody asks for anything, and that nobody else notices.
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
// Installs what the library needs, as the process of the server does.
import 'vscode-languageserver/node';
import { emptyEnvironment } from '../../server/addresses.ts';
import { createLull } from '../../server/lull.ts';
import { createRehearsal } from '../../server/rehearsal.ts';
import { rehearsalPlant } from '../../server/rehearsal-plant.ts';
import { openStage, type Stage } from '../../server/rehearsal-stage.ts';
import { startServer } from '../../server/server.ts';
import { start } from '../kit/editors.ts';
import type { EditorOptions } from '../kit/language-server.ts';
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
  // Its hours are told by hand here, so that a busy machine changes nothing.
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const passes = (milliseconds: number) => vi.advanceTimersByTimeAsync(milliseconds);
  const log = () => ({ debug: vi.fn(), error: vi.fn() });

  /** Counts what is played on it; each act takes a millisecond. */
  function countingStage() {
    const played = { acts: 0, closed: false };
    const act = async () => {
      played.acts += 1;
      await new Promise(resolve => setTimeout(resolve, 1));
    };
    const close = async () => {
      played.closed = true;
    };
    const at = { line: 0, character: 0 };
    const known = { numbers: [{ at, digit: '4' }], names: [at], complaints: [] };
    const stage: Stage = { ...known, open: act, edit: act, hover: act, complete: act, pause: act, close };
    return { stage, played };
  }

  test('begins once the editor is quiet, pauses while it is not, and goes on', async () => {
    const { stage, played } = countingStage();
    const lull = createLull();
    createRehearsal(async () => stage, lull, log()).begin();
    await passes(90);
    expect(played.acts).toBe(0);
    await passes(100);
    expect(played.acts).toBeGreaterThan(3);
    lull.heard();
    await passes(5);
    const paused = played.acts;
    await passes(80);
    lull.heard();
    await passes(90);
    expect(played.acts).toBe(paused);
    await passes(50);
    expect(played.acts).toBeGreaterThan(paused);
  });

  test('ends by itself, and says in the log what it was', async () => {
    const { stage, played } = countingStage();
    const said = log();
    createRehearsal(async () => stage, createLull(), said).begin();
    await passes(60_000);
    expect(played.closed).toBe(true);
    expect(said.debug.mock.calls).toEqual([[`Rehearsed ${played.acts} times, ${played.acts} ms`]]);
    expect(said.error).not.toHaveBeenCalled();
  });

  test('when it is stopped it plays on no more and says nothing', async () => {
    const { stage, played } = countingStage();
    const said = log();
    const lull = createLull();
    createRehearsal(async () => stage, lull, said).begin();
    await passes(200);
    lull.stop();
    await passes(5);
    const before = played.acts;
    expect(before).toBeGreaterThan(3);
    await passes(60_000);
    expect(played).toEqual({ acts: before, closed: true });
    expect(said.debug).not.toHaveBeenCalled();
    expect(said.error).not.toHaveBeenCalled();
  });

  test('an exception ends it, and stands in the log', async () => {
    const said = log();
    createRehearsal(() => Promise.reject(new Error('no stage')), createLull(), said).begin();
    await passes(200);
    expect(said.error.mock.calls).toEqual([['The rehearsal failed: Error: no stage']]);
  });
});

const hosts: readonly (readonly [host: string, options: EditorOptions])[] = [
  ['as a process', {}],
  ['as a worker of a browser', { command: ['../test/kit/browser-worker.ts'] }],
];

describe.each(hosts)('the built server %s', (_, options) => {
  test('rehearses after the first findings; nothing of it reaches the editor', async () => {
    const editor = await start(options);
    await editor.open(uri, plant);
    await expect.poll(() => editor.debugLog, patience).toEqual([expect.stringMatching(/^Rehearsed \d+ times/)]);
    expect(new Set(editor.published.map(one => one.uri))).toEqual(new Set([uri]));
    expect(new Set(editor.statuses.map(one => one.uri))).toEqual(new Set([uri]));
    expect(editor.log).toEqual([]);
  });

  test('it rests while somebody types in the middle of it, and what is typed is answered as ever', async () => {
    const editor = await start(options);
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
    const fresh = await start(options);
    await fresh.open(uri, plant);
    expect(await editor.diagnosticsOf(uri, 60)).toEqual(await fresh.diagnosticsOf(uri, 1));
  });

  test('goes when it is told to, in the middle of it', async () => {
    const editor = await start(options);
    await editor.open(uri, plant);
    await editor.diagnosticsOf(uri, 1);
    await pause(200);
    expect(await editor.stop()).toBe(0);
    expect(editor.debugLog).toEqual([]);
  });
});
