// What the server works out ahead while nobody asks for anything, and when it lets that be.
import { afterEach, describe, expect, test, vi } from 'vitest';
import { columnsComputed } from '../../engine/analyze.ts';
import { mainResults } from '../../server/features/main-results.ts';
import { createForesight } from '../../server/foresight.ts';
import type { FileText } from '../../server/host.ts';
import type { Lull } from '../../server/lull.ts';
import { rehearsalPlant as plant } from '../../server/rehearsal-plant.ts';
import { createWorkspace, type Workspace } from '../../server/workspace.ts';
import { edited } from '../kit/plants.ts';

const path = 'valley.plant';
/** Of the battery of the plant: its findings need none of it, since it surely lasts. */
const discharge = 'B1.discharge_time';

afterEach(() => void vi.restoreAllMocks());

async function opened(disk: Readonly<Record<string, string>> = {}) {
  const read = async (file: string): Promise<FileText> => {
    return disk[file] === undefined ? { state: 'missing' } : { state: 'text', text: disk[file] };
  };
  const workspace = createWorkspace({
    host: { read, listPlants: async () => Object.keys(disk) },
    settings: () => ({ today: '2026-11-25' }),
    whileTyping: () => true,
    publish: () => {},
    announce: async () => () => {},
    failed: (_, error) => {
      throw error;
    },
  });
  workspace.edit(path, plant, 1);
  await workspace.fresh(path);
  return workspace;
}

/** The editor speaks until `pause` is called, which lets it be silent for one turn. */
function lullByHand() {
  let waiting: ((goesOn: boolean) => void)[] = [];
  const lull: Lull = {
    over: false,
    heard: () => {},
    stop: () => {},
    turn: () => new Promise(resolve => waiting.push(resolve)),
  };
  const pause = async (goesOn = true) => {
    const now = waiting;
    waiting = [];
    for (const resolve of now) resolve(goesOn);
    await new Promise(setImmediate);
    return now.length > 0;
  };
  const pauseUntilDone = async () => {
    let pauses = 0;
    while (await pause()) pauses += 1;
    return pauses;
  };
  return { lull, pause, pauseUntilDone };
}

/** Each look at the clock finds it so much further. */
function clockThatRuns(milliseconds: number) {
  let now = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => {
    now += milliseconds;
    return now;
  });
}

const log = () => ({ error: vi.fn() });
const analysisOf = (workspace: Workspace, file = path) => workspace.latest(file)!.analysis;
const computedIn = (workspace: Workspace, file = path) => columnsComputed(analysisOf(workspace, file));

/** How many columns are computed for asking this. */
function costOf(workspace: Workspace, name: string, file = path): number {
  const before = computedIn(workspace, file);
  expect(analysisOf(workspace, file).values.worst(name)?.value).toBeDefined();
  return computedIn(workspace, file) - before;
}

const mainNames = [
  ...mainResults('transformer').flatMap(result => (result.startsWith('winding') ? [] : `T.${result}`)),
  ...mainResults('filter').map(result => `F1.${result}`),
  ...mainResults('converter').map(result => `K1.${result}`),
  ...mainResults('battery').map(result => `B1.${result}`),
];

test('nothing of it would be there otherwise', async () => {
  const workspace = await opened();
  expect(costOf(workspace, discharge)).toBeGreaterThan(0);
});

describe('once the editor is silent', () => {
  test('the main results of all components are there for whoever asks, but for the possible windings', async () => {
    const { lull, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    createForesight(lull, log()).published(workspace, path);
    await pauseUntilDone();
    for (const name of mainNames) expect([name, costOf(workspace, name)]).toEqual([name, 0]);
    expect(costOf(workspace, 'T.winding_max')).toBeGreaterThan(0);
  });

  test('of every text that was told of', async () => {
    const { lull, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    const files = [path, 'middle.plant', 'summit.plant'];
    for (const file of files) {
      workspace.edit(file, plant, 1);
      await workspace.fresh(file);
    }
    const foresight = createForesight(lull, log());
    for (const file of files) foresight.published(workspace, file);
    await pauseUntilDone();
    for (const file of files) expect(costOf(workspace, discharge, file)).toBe(0);
  });

  test('but of none that nobody has open', async () => {
    const { lull, pauseUntilDone } = lullByHand();
    const workspace = await opened({ 'summit.plant': plant });
    await workspace.fresh('summit.plant');
    createForesight(lull, log()).published(workspace, 'summit.plant');
    await pauseUntilDone();
    expect(costOf(workspace, discharge, 'summit.plant')).toBeGreaterThan(0);
  });

  test('and not before', async () => {
    const { lull, pause } = lullByHand();
    const workspace = await opened();
    const before = computedIn(workspace);
    createForesight(lull, log()).published(workspace, path);
    await new Promise(setImmediate);
    expect(computedIn(workspace)).toBe(before);
    await pause();
    expect(computedIn(workspace)).toBeGreaterThan(before);
  });
});

describe('it gives way', () => {
  test('after each result that took its time', async () => {
    clockThatRuns(3);
    const { lull, pause, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    createForesight(lull, log()).published(workspace, path);
    await pause();
    expect(computedIn(workspace)).toBeLessThan(await computedAltogether());
    expect(await pauseUntilDone()).toBeGreaterThanOrEqual(mainNames.length - 1);
    expect(costOf(workspace, discharge)).toBe(0);
  });

  test('once, however often it is told of a text', async () => {
    const pausesAfter = async (times: number) => {
      clockThatRuns(3);
      const { lull, pauseUntilDone } = lullByHand();
      const turn = vi.spyOn(lull, 'turn');
      const workspace = await opened();
      const foresight = createForesight(lull, log());
      for (let time = 0; time < times; time++) foresight.published(workspace, path);
      await pauseUntilDone();
      return turn.mock.calls.length;
    };
    const once = await pausesAfter(1);
    // The first time it has begun already when it is told again.
    expect(await pausesAfter(20)).toBe(2 * once);
  });

  test('to a newer text, of which it works out everything', async () => {
    clockThatRuns(3);
    const { lull, pause, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    const foresight = createForesight(lull, log());
    foresight.published(workspace, path);
    await pause();
    const older = workspace.latest(path)!.analysis;
    const computed = columnsComputed(older);
    workspace.edit(path, edited(plant, ['strings = 4', 'strings = 5']), 2);
    await workspace.fresh(path);
    foresight.published(workspace, path);
    await pauseUntilDone();
    expect(columnsComputed(older)).toBe(computed);
    expect(costOf(workspace, discharge)).toBe(0);
  });

  test('where the text has changed and nobody has analysed it yet', async () => {
    const { lull, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    const before = computedIn(workspace);
    workspace.edit(path, edited(plant, ['strings = 4', 'strings = 5']), 2);
    createForesight(lull, log()).published(workspace, path);
    await pauseUntilDone();
    expect(computedIn(workspace)).toBe(before);
    workspace.stop();
  });

  test('where the file is closed meanwhile', async () => {
    const { lull, pauseUntilDone } = lullByHand();
    const workspace = await opened();
    const { analysis } = workspace.latest(path)!;
    const before = columnsComputed(analysis);
    createForesight(lull, log()).published(workspace, path);
    workspace.close(path);
    await pauseUntilDone();
    expect(columnsComputed(analysis)).toBe(before);
  });

  test('to the end of the server', async () => {
    const { lull, pause } = lullByHand();
    const workspace = await opened();
    const before = computedIn(workspace);
    createForesight(lull, log()).published(workspace, path);
    await pause(false);
    expect(computedIn(workspace)).toBe(before);
  });
});

test('a text that would take long is left to whoever asks', async () => {
  clockThatRuns(400);
  const { lull, pauseUntilDone } = lullByHand();
  const workspace = await opened();
  createForesight(lull, log()).published(workspace, path);
  expect(await pauseUntilDone()).toBeLessThan(4);
  expect(costOf(workspace, discharge)).toBeGreaterThan(0);
});

test('an exception stands in the log, and the next text is worked out all the same', async () => {
  const said = log();
  const { lull, pauseUntilDone } = lullByHand();
  const workspace = await opened();
  const foresight = createForesight(lull, said);
  const broken = { ...workspace, latest: () => raise('no analysis') };
  foresight.published(broken, path);
  await pauseUntilDone();
  expect(said.error.mock.calls).toEqual([['Working out what may be asked failed: Error: no analysis']]);
  foresight.published(workspace, path);
  await pauseUntilDone();
  expect(costOf(workspace, discharge)).toBe(0);
});

function raise(message: string): never {
  throw new Error(message);
}

/** Columns of the plant with all its main results. */
async function computedAltogether(): Promise<number> {
  const workspace = await opened();
  for (const name of mainNames) analysisOf(workspace).values.worst(name);
  return computedIn(workspace);
}
