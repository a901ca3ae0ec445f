// The change view through the built server: the working text against what the editor says was committed.
import { expect, test, vi } from 'vitest';
import type { FileText } from '../../server/host.ts';
import { makeFolder, start } from '../kit/editors.ts';

import { edited } from '../kit/plants.ts';
import { starter } from '../kit/starter.ts';

vi.setConfig({ testTimeout: 60_000 });

const files = starter('valley-station.plant');
const text = files.get('valley-station.plant') ?? '';
/** The starter on disk, its station open with this text, and the rest as it was committed. */
async function changesOf(working: string, committed: (name: string) => FileText): Promise<string> {
  const { address: folder, uri: uriOf } = makeFolder(files);
  const editor = await start({ folder });
  editor.connection.onRequest<FileText, void>('wattwright/committedText', ({ uri }: { readonly uri: string }) => {
    return committed(uri.slice(folder.length + 1));
  });
  const uri = uriOf('valley-station.plant');
  await editor.open(uri, working);
  return editor.connection.sendRequest<string>('wattwright/changes', { uri });
}

const asItWas = (name: string): FileText => ({ state: 'text', text: files.get(name) ?? '' });

test('what an edit that is not saved does to the results', async () => {
  const page = await changesOf(edited(text, ['secondary_voltage = 360 V', 'secondary_voltage = 375 V']), asItWas);
  expect(page).toMatch(/^# What changed since the last commit\n\n\*\*1 new hazard, 1 new error/);
  // In half a window a long name may be broken between its words.
  expect(page).toMatch(/^\| K1\.<wbr>diode\\_<wbr>margin \| 3\.\d+\u00a0% \| -0\.\d+\u00a0% \|/m);
});

test('a part that was committed in another form counts too', async () => {
  const parts = 'parts/lfp-string.plant';
  const before = edited(files.get(parts) ?? '', ['capacity = 280 Ah', 'capacity = 250 Ah']);
  const page = await changesOf(text, name => (name === parts ? { state: 'text', text: before } : asItWas(name)));
  expect(page).toContain('B1.capacity: 250 Ah → 280 Ah');
});

test('nothing changed', async () => {
  expect(await changesOf(text, asItWas)).toContain('No result and no finding changes.');
});

test('a file that was never committed, or an editor without git: said on the page', async () => {
  const missing = await changesOf(text, () => ({ state: 'missing' }));
  expect(missing).toContain('Nothing could be compared.');
  expect(missing).toContain('could not be read in the last commit: it is not there.');
  const without = await changesOf(text, () => ({ state: 'unreadable', reason: 'this editor has no git' }));
  expect(without).toContain('could not be read in the last commit: this editor has no git.');
});

test('page after page says what a first page would say, whatever was edited or committed in between', async () => {
  const { address: folder, uri: uriOf } = makeFolder(files);
  const editor = await start({ folder });
  let was = files;
  editor.connection.onRequest<FileText, void>('wattwright/committedText', ({ uri }: { readonly uri: string }) => {
    return { state: 'text', text: was.get(uri.slice(folder.length + 1)) ?? '' };
  });
  const uri = uriOf('valley-station.plant');
  const page = () => editor.connection.sendRequest<string>('wattwright/changes', { uri });
  const stated = 'secondary_voltage = 360 V';
  const [lower, higher] = ['352 V', '375 V'].map(volts => edited(text, [stated, `secondary_voltage = ${volts}`]));
  await editor.open(uri, text);
  const pages = [await page()];
  for (const [index, working] of [lower!, higher!, text, higher!].entries()) {
    await editor.change(uri, working, index + 2);
    pages.push(await page());
  }
  was = new Map([...files, ['valley-station.plant', higher!]]);
  pages.push(await page());
  expect(await page()).toBe(pages[5]);
  // Another branch, and back.
  was = files;
  expect(await page()).toBe(pages[4]);
  expect(pages[0]).toContain('No result and no finding changes.');
  expect(pages.slice(1, 5)).toEqual([
    await changesOf(lower!, asItWas),
    await changesOf(higher!, asItWas),
    pages[0],
    pages[2],
  ]);
  expect(new Set(pages).size).toBe(3);
  expect(pages[5]).toBe(pages[0]);
});
