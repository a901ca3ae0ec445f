// Files that only the editor can read: in a browser, or in a file system that an extension brings along.
import type { Connection } from 'vscode-languageserver';
import type { WorkspacePath } from '../engine/analysis.ts';
import { type Environment, type Location, locateLoose, looseUri } from './addresses.ts';
import { listPlantsRequest, readFileRequest } from './file-requests.ts';
import { emptyHost, type FileText, type Host } from './host.ts';

/** A folder of the editor is a workspace; a document outside of all folders stands alone. */
export function clientEnvironment(connection: Connection): Environment {
  return {
    locate: (uri, folders) => locateInFolders(uri, folders) ?? locateLoose(uri),
    uriOf: location => (isFolder(location.root) ? uriInFolder(location) : looseUri(location)),
    hostOf: root => (isFolder(root) ? clientHost(connection, root) : emptyHost),
  };
}

/** Undefined where the document lies in none of the folders. */
export function locateInFolders(uri: string, folders: readonly string[]): Location | undefined {
  const roots = folders.map(folder => (folder.endsWith('/') ? folder : `${folder}/`));
  const root = roots.filter(one => uri.startsWith(one)).sort((a, b) => b.length - a.length)[0];
  return root === undefined ? undefined : { root, path: decoded(uri.slice(root.length)) };
}

function uriInFolder({ root, path }: Location): string {
  return root + path.split('/').map(encodeURIComponent).join('/');
}

/** Loose documents have the scheme alone for a root: `untitled:`. */
function isFolder(root: string): boolean {
  return root.endsWith('/');
}

function clientHost(connection: Connection, root: string): Host {
  return {
    read: async (path: WorkspacePath) => {
      const asked = { uri: uriInFolder({ root, path }) };
      return readAnswer(await connection.sendRequest<unknown>(readFileRequest, asked).catch(String));
    },
    listPlants: async (folder, limit = Number.MAX_SAFE_INTEGER) => {
      const uri = folder === '' ? root : uriInFolder({ root, path: folder });
      const answer = await connection.sendRequest<unknown>(listPlantsRequest, { uri, limit }).catch(() => []);
      const paths = Array.isArray(answer) ? answer.filter(path => typeof path === 'string') : [];
      return folder === '' ? paths : paths.map(path => `${folder}/${path}`);
    },
  };
}

function readAnswer(answer: unknown): FileText {
  if (typeof answer !== 'object' || answer === null || !('state' in answer))
    return { state: 'unreadable', reason: 'the editor did not hand it over' };
  const { state } = answer;
  if (state === 'text' && 'text' in answer && typeof answer.text === 'string') return { state, text: answer.text };
  if (state === 'missing') return { state };
  const reason = 'reason' in answer && typeof answer.reason === 'string' ? answer.reason : 'the editor did not say why';
  return { state: 'unreadable', reason };
}

function decoded(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}
