// Addresses and files for a server that runs as a process: `file:` addresses are on disk, all others only in the editor.
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Environment, type Location, locateLoose, looseUri } from './addresses.ts';
import { emptyHost } from './host.ts';
import { createNodeHost, findWorkspaceRoot } from './node-host.ts';

export const nodeEnvironment: Environment = {
  locate: (uri, folders) => {
    const file = filePath(uri);
    return file === undefined
      ? locateLoose(uri)
      : locateFile(
          file,
          folders.flatMap(folder => filePath(folder) ?? []),
        );
  },
  uriOf: location => {
    if (!path.isAbsolute(location.root)) return looseUri(location);
    return pathToFileURL(path.join(location.root, location.path)).href;
  },
  hostOf: root => (path.isAbsolute(root) ? createNodeHost(root) : emptyHost),
};

/** The same root as on the command line, so that both say the same: see `findWorkspaceRoot`. */
function locateFile(file: string, folders: readonly string[]): Location {
  const folder = path.dirname(file);
  const around = folders.find(one => file === one || file.startsWith(one.endsWith(path.sep) ? one : one + path.sep));
  const root = findWorkspaceRoot(folder, around ?? folder);
  return { root, path: path.relative(root, file).replaceAll('\\', '/') };
}

function filePath(uri: string): string | undefined {
  if (!uri.startsWith('file:')) return undefined;
  try {
    return path.resolve(fileURLToPath(uri));
  } catch {
    return undefined;
  }
}
