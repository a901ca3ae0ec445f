// All workspaces of one server, each made when the first document of it is opened, and the addresses of their files.
import type { AnalysisSettings, WorkspacePath } from '../engine/analysis.ts';
import type { Environment, Location } from './addresses.ts';
import type { Announce } from './progress.ts';
import type { EditLookup } from './to-lsp-edits.ts';
import { createWorkspace, type FileFindings, type Workspace } from './workspace.ts';

export interface Room extends EditLookup {
  readonly root: string;
  readonly workspace: Workspace;
}

export interface RoomFile {
  readonly room: Room;
  readonly path: WorkspacePath;
}

export interface RoomsOptions {
  readonly environment: Environment;
  readonly settings: () => AnalysisSettings;
  readonly whileTyping: () => boolean;
  /** Addresses of the folders that the editor has open. */
  readonly folders: () => readonly string[];
  readonly announce: Announce;
  readonly publish: (room: Room, findings: FileFindings) => void;
  readonly failed: (uri: string, error: unknown) => void;
}

export interface Rooms {
  /** Remembers how the editor spells the address of an open document. */
  opened(uri: string): RoomFile;
  closed(uri: string): void;
  /** Undefined where no document of that workspace was ever opened. */
  find(uri: string): RoomFile | undefined;
  /** Looks for users of the open parts in the folders that the editor has open, once in each. */
  scan(): void;
  /** The rooms of those folders, also where no document has been opened yet: for what concerns whole folders. */
  ofFolders(): readonly Room[];
  all(): readonly Room[];
}

export function createRooms(options: RoomsOptions): Rooms {
  const rooms = new Map<string, Room>();
  const open = new Map<string, Location>();
  const spelling = new Map<string, string>();
  const scanned = new Set<string>();

  const locate = (uri: string): Location => open.get(uri) ?? options.environment.locate(uri, options.folders());

  const roomOf = (root: string): Room => {
    const known = rooms.get(root);
    if (known !== undefined) return known;
    const uriOf = (path: WorkspacePath) =>
      spelling.get(keyOf({ root, path })) ?? options.environment.uriOf({ root, path });
    const workspace = createWorkspace({
      host: options.environment.hostOf(root),
      settings: options.settings,
      whileTyping: options.whileTyping,
      announce: options.announce,
      publish: findings => options.publish(room, findings),
      failed: (path, error) => options.failed(uriOf(path), error),
    });
    const room: Room = {
      root,
      workspace,
      uriOf,
      linesOf: path => workspace.sources.current(path)?.lines,
      versionOf: path => workspace.sources.current(path)?.documentVersion ?? null,
    };
    rooms.set(root, room);
    scan();
    return room;
  };

  // A made-up file in the folder, since only files have a place in a workspace.
  const inFolder = (folder: string) =>
    options.environment.locate(`${folder.replace(/\/$/, '')}/any.plant`, options.folders());

  const scan = (): void => {
    for (const folder of options.folders()) {
      if (scanned.has(folder)) continue;
      const { root, path } = inFolder(folder);
      const room = rooms.get(root);
      if (room === undefined) continue;
      scanned.add(folder);
      const inside = path.slice(0, Math.max(0, path.lastIndexOf('/')));
      room.workspace.scan(inside).catch((error: unknown) => options.failed(folder, error));
    }
  };

  return {
    opened: uri => {
      const location = locate(uri);
      open.set(uri, location);
      spelling.set(keyOf(location), uri);
      return { room: roomOf(location.root), path: location.path };
    },
    closed: uri => void open.delete(uri),
    find: uri => {
      const { root, path } = locate(uri);
      const room = rooms.get(root);
      return room && { room, path };
    },
    scan,
    ofFolders: () => [...new Set(options.folders().map(folder => roomOf(inFolder(folder).root)))],
    all: () => [...rooms.values()],
  };
}

function keyOf({ root, path }: Location): string {
  return `${root}\n${path}`;
}
