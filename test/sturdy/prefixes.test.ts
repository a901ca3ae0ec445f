// Every prefix of every sample file: what an author has on the screen while writing it.
import { expect, it } from 'vitest';
import { flawsOf, flawsOfValues, lengths, rootOf, starter, Workspace } from './kit.ts';

it.each([...starter])(
  'every prefix of %s is analysed, and nothing is beyond its end',
  (path, text) => {
    const workspace = new Workspace(rootOf(path));
    const flaws: string[] = [];
    for (let end = 0; end <= text.length; end++) {
      const prefix = text.slice(0, end);
      const analysis = workspace.with(path, prefix);
      const values = end % 50 === 0 ? flawsOfValues(analysis) : [];
      for (const flaw of [...flawsOf(analysis, lengths(path, prefix)), ...values]) flaws.push(`after ${end}: ${flaw}`);
    }
    expect(flaws).toEqual([]);
  },
  300_000,
);

it('a prefix of whole declarations has no mistake in its text that the whole has not', () => {
  const text = starter.get('valley-station.plant')!;
  const codes = new Set<string>();
  for (const { index } of text.matchAll(/^connect|^duty|^case|^require|^accept/gm)) {
    const analysis = new Workspace('valley-station.plant').with('valley-station.plant', text.slice(0, index));
    for (const { code, severity } of analysis.findings) if (severity === 'error') codes.add(code);
  }
  expect([...codes]).toEqual([]);
});
