// Which workspace a document of the editor belongs to, and its path in there. The rest of the server knows no addresses.
import type { WorkspacePath } from '../engine/analysis.ts';
import { emptyHost, type Host } from './host.ts';

/** The part that differs between a process with a disk and a worker in a browser. */
export interface Environment {
  /** `folders` are the addresses of the folders that the editor has open. */
  locate(uri: string, folders: readonly string[]): Location;
  uriOf(location: Location): string;
  hostOf(root: string): Host;
}

export interface Location {
  /** Identifies the workspace; what it looks like is the environment's own affair. */
  readonly root: string;
  readonly path: WorkspacePath;
}

/** A document that lies in no folder, such as one that was never saved, has a workspace of its own kind. */
export function locateLoose(uri: string): Location {
  const at = uri.indexOf(':');
  return { root: uri.slice(0, at + 1), path: uri.slice(at + 1).replace(/^\/+/, '') };
}

export function looseUri({ root, path }: Location): string {
  return `${root}${path}`;
}

/** Nothing but what the editor has open. */
export const emptyEnvironment: Environment = { locate: locateLoose, uriOf: looseUri, hostOf: () => emptyHost };
