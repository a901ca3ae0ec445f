// Addresses and files for a server that runs as a process: `file:` addresses are on disk, all others the editor's.
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Environment, Location } from './addresses.ts';
import { createNodeHost, findWorkspaceRoot, inBackground } from './node-host.ts';

/** `others` knows what to do with addresses that are not on disk. */
export function nodeEnvironment(others: Environment): Environment {
  return {
    locate: (uri, folders) => {
      const file = filePath(uri);
      return file === undefined
        ? others.locate(uri, folders)
        : locateFile(
            file,
            folders.flatMap(folder => filePath(folder) ?? []),
          );
    },
    uriOf: location => {
      if (!path.isAbsolute(location.root)) return others.uriOf(location);
      return pathToFileURL(path.join(location.root, location.path)).href;
    },
    hostOf: root => (path.isAbsolute(root) ? createNodeHost(root, inBackground) : others.hostOf(root)),
  };
}

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
