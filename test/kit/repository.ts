// A folder under version control, for tests of what the command reads from git.
import { spawnSync } from 'node:child_process';
import { type Folder, makeFolder } from './command.ts';

export interface GitFolder extends Folder {
  /** Runs git there; fails where git does. Returns what it prints, without the last line end. */
  git(...words: readonly string[]): string;
  /** Commits everything as it stands and returns the name of the commit. */
  commit(message: string): string;
}

export function makeRepository(files: Readonly<Record<string, string>> = {}): GitFolder {
  const folder = makeFolder(files);
  const git = (...words: readonly string[]): string => runGit(folder.at, words);
  git('init', '--quiet', '--initial-branch=main');
  return {
    ...folder,
    git,
    commit: message => {
      git('add', '--all');
      git('commit', '--quiet', '--allow-empty', '--message', message);
      return git('rev-parse', 'HEAD');
    },
  };
}

/** A clone that knows the last commit alone. */
export function shallowClone(of: Folder): Folder {
  const clone = makeFolder();
  runGit(clone.at, ['clone', '--quiet', '--depth', '1', `file://${of.at}`, '.']);
  return clone;
}

export function runGit(folder: string, words: readonly string[]): string {
  // The settings of whoever runs the tests count for nothing.
  const env = {
    ...process.env,
    GIT_CONFIG_GLOBAL: '/dev/null',
    GIT_CONFIG_NOSYSTEM: '1',
    GIT_AUTHOR_NAME: 'A',
    GIT_AUTHOR_EMAIL: 'a@invalid.example',
    GIT_COMMITTER_NAME: 'A',
    GIT_COMMITTER_EMAIL: 'a@invalid.example',
  };
  const { status, stdout, stderr } = spawnSync('git', words, { cwd: folder, encoding: 'utf8', env });
  if (status !== 0) throw new Error(`git ${words.join(' ')} failed: ${stderr}`);
  return stdout.replace(/\n$/, '');
}
