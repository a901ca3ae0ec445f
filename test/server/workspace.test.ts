// What happens on the disk between the moments at which the server looks.
import { describe, expect, it } from 'vitest';
import type { FileText, Host } from '../../server/host.ts';
import { createWorkspace, type FileFindings, type Workspace } from '../../server/workspace.ts';

const plant = 'use "shelf/cells.plant"\nplant Station {\n  altitude = 900 m\n}\nbattery B1 is Cells\n';
const parts = 'part battery Cells {\n  chemistry = lfp\n}\n';

/** A workspace on a disk of texts; `whenRead` is told of each file that was looked for, in the next round of events. */
function openOn(disk: Map<string, string>, whenRead: (path: string, workspace: Workspace) => void) {
  const published: FileFindings[] = [];
  const host: Host = {
    read: async (path): Promise<FileText> => {
      const text = disk.get(path);
      setImmediate(() => whenRead(path, workspace));
      return text === undefined ? { state: 'missing' } : { state: 'text', text };
    },
    listPlants: async () => [...disk.keys()],
  };
  const workspace = createWorkspace({
    host,
    settings: () => ({ today: '2026-11-25' }),
    whileTyping: () => true,
    publish: findings => published.push(findings),
    announce: async () => () => {},
    failed: (path, error) => {
      throw new Error(`The analysis of ${path} failed`, { cause: error });
    },
  });
  return { workspace, codesOf: (path: string) => codesIn(published.findLast(one => one.path === path)) };
}

const codesIn = (found: FileFindings | undefined) => found?.findings.map(({ code }) => code);

describe('a folder that comes while what lies in it is looked for', () => {
  it('is found, though nobody tells of its files', async () => {
    const disk = new Map<string, string>();
    let looks = 0;
    const { workspace, codesOf } = openOn(disk, (path, { folderChanged }) => {
      if (path !== 'shelf/cells.plant' || ++looks > 1) return;
      // It was not there yet, and no analysis has said so.
      disk.set(path, parts);
      folderChanged('shelf');
    });
    workspace.edit('station.plant', plant, 1);
    await expect.poll(() => codesOf('station.plant'), { timeout: 5000 }).toBeDefined();
    await new Promise(resolve => setTimeout(resolve, 100));
    expect(codesOf('station.plant')).not.toContain('missing_file');
    expect(codesOf('station.plant')).not.toContain('unknown_name');
    expect(looks).toBeGreaterThan(1);
    workspace.stop();
  });
});
