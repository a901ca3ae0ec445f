// What the server does while the editor is silent: it rehearses, and works out what will be asked.
import type { Connection } from 'vscode-languageserver';
import type { WorkspacePath } from '../engine/analysis.ts';
import { type Environment, emptyEnvironment } from './addresses.ts';
import { createForesight } from './foresight.ts';
import { createLull } from './lull.ts';
import { createRehearsal } from './rehearsal.ts';
import { openStage } from './rehearsal-stage.ts';
import { startServer } from './server.ts';
import type { Workspace } from './workspace.ts';

export interface Leisure {
  /** The editor has findings of a file. */
  published(workspace: Workspace, path: WorkspacePath): void;
  stop(): void;
}

/** A server that uses its leisure; gives back what is to be called with each message of the editor. */
export function startWithLeisure(connection: Connection, environment: Environment): () => void {
  const lull = createLull();
  const rehearsal = createRehearsal(
    () => openStage(stage => startServer(stage, emptyEnvironment)),
    lull,
    connection.console,
  );
  const foresight = createForesight(lull, connection.console);
  startServer(connection, environment, {
    published: (workspace, path) => {
      rehearsal.begin();
      foresight.published(workspace, path);
    },
    stop: lull.stop,
  });
  return lull.heard;
}
