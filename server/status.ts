// Tells the editor what the last analysis of a file came to, and asks it to show anew what depends on more than the text.
import type { Connection } from 'vscode-languageserver';
import type { WorkspacePath } from '../engine/analysis.ts';
import type { Finding } from '../engine/finding.ts';
import { dangerousNames } from './features/semantic-tokens.ts';
import { count, describeCounts } from './findings.ts';
import { findingPage } from './render/reference.ts';
import type { Room } from './rooms.ts';
import type { ClientWishes } from './wishes.ts';

/** Sent as `wattwright/status`, for the language status of the editor. */
export interface FileStatus {
  readonly uri: string;
  /** Undefined for a file of parts. */
  readonly plant: string | null;
  readonly counts: string;
  /** The gravest finding, in its own words. */
  readonly worst: {
    readonly severity: string;
    readonly hazard: boolean;
    readonly code: string;
    readonly message: string;
    /** Of the reference. */
    readonly page: string;
  } | null;
  /** Milliseconds. */
  readonly took: number | null;
}

export interface Status {
  changed(room: Room, path: WorkspacePath): void;
  /** Settings changed: everything that is shown unasked is asked for again. */
  refresh(): void;
}

interface Listener {
  readonly wishes: ClientWishes;
  readonly stopped: boolean;
}

/** Milliseconds: what stands at the edge of the window need not keep pace with the keys. */
const unhurried = 50;

export function createStatus(connection: Connection, session: Listener): Status {
  const hazards = new Map<string, string>();
  const waiting = new Map<string, () => void>();
  const tell = (room: Room, path: WorkspacePath): void => {
    const analysis = room.workspace.latest(path)?.analysis;
    if (session.stopped || analysis === undefined) return;
    const status = statusOf(analysis, room.uriOf(path), room.workspace.took(path));
    void connection.sendNotification('wattwright/status', status);
  };
  const tellSoon = (uri: string, room: Room, path: WorkspacePath): void => {
    if (waiting.size === 0) {
      setTimeout(() => {
        const told = [...waiting.values()];
        waiting.clear();
        for (const tellOne of told) tellOne();
      }, unhurried);
    }
    waiting.set(uri, () => tell(room, path));
  };
  return {
    changed: (room, path) => {
      const analysis = room.workspace.latest(path)?.analysis;
      if (session.stopped || analysis === undefined) return;
      const uri = room.uriOf(path);
      tellSoon(uri, room, path);
      const names = [...dangerousNames(analysis)].join();
      if (names === (hazards.get(uri) ?? '')) return;
      hazards.set(uri, names);
      if (session.wishes.refreshesTokens) void connection.languages.semanticTokens.refresh();
    },
    refresh: () => {
      if (session.wishes.refreshesLenses) void connection.sendRequest('workspace/codeLens/refresh');
      if (session.wishes.refreshesInlays) void connection.languages.inlayHint.refresh();
    },
  };
}

type Judged = NonNullable<ReturnType<Room['workspace']['latest']>>['analysis'];

const gravity = ['error', 'warning', 'note', 'hint'] as const;

function isGraver(a: Finding, b: Finding): boolean {
  if (a.hazard !== b.hazard) return a.hazard;
  return gravity.indexOf(a.severity) < gravity.indexOf(b.severity);
}

function graveness({ severity, hazard, code, message }: Finding): FileStatus['worst'] {
  return { severity, hazard, code, message, page: findingPage(code) };
}

function statusOf({ plant, findings }: Judged, uri: string, took: number | undefined): FileStatus {
  const worst = findings.reduce<Finding | undefined>(
    (gravest, finding) => (gravest === undefined || isGraver(finding, gravest) ? finding : gravest),
    undefined,
  );
  return {
    uri,
    plant: plant ?? null,
    counts: describeCounts(count(findings)),
    worst: worst === undefined ? null : graveness(worst),
    took: took ?? null,
  };
}
