// What the checker needs of the world outside, for one workspace folder: disk, browser file system or nothing at all.
import type { WorkspacePath } from '../engine/analysis.ts';

export type FileText =
  | { readonly state: 'text'; readonly text: string }
  | { readonly state: 'missing' }
  /** Leads out of the workspace through a link. */
  | { readonly state: 'outside' }
  | { readonly state: 'unreadable'; readonly reason: string };

export interface Host {
  /** Never rejects: what goes wrong is part of the answer. */
  read(path: WorkspacePath): Promise<FileText>;
  /** All `.plant` files below a folder (`''`: the workspace itself), in a stable order, at most `limit` of them. */
  listPlants(folder: WorkspacePath, limit?: number): Promise<readonly WorkspacePath[]>;
}

/** Larger files are refused: no plant is that long, and a mistaken path should not take the memory. */
export const largestFile = 5_000_000;

/** Hidden things and installed packages are not looked through for plants: only what a plant names there is read. */
export function isPassedOver(name: string): boolean {
  return name === 'node_modules' || name.startsWith('.');
}

/** A workspace that holds nothing but what the editor has open. */
export const emptyHost: Host = {
  read: async () => ({ state: 'missing' }),
  listPlants: async () => [],
};

/** Makes text of a file's bytes, or says why it is none. */
export function decodeFile(bytes: Uint8Array): FileText {
  if (bytes.includes(0)) return { state: 'unreadable', reason: 'it is not a text file (it holds zero bytes)' };
  try {
    return { state: 'text', text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return { state: 'unreadable', reason: 'it is not encoded in UTF-8' };
  }
}

export function tooLarge(size: number): FileText {
  return { state: 'unreadable', reason: `it is ${(size / 1e6).toFixed(1)} MB long, more than 5 MB` };
}
