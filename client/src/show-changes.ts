// The command "Show What Changed Since the Last Commit": a read-only page beside the text. Committed files come from
// the editor's own git, so that nothing is started here and a workspace that is not trusted stays untouched.
import { commands, Disposable, type Event, extensions, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { committedTextRequest } from '../../server/file-requests.ts';
import { type FileText, largestFile, tooLarge } from '../../server/host.ts';
import { livePages } from './live-pages.ts';

const command = 'wattwright.showChanges';
const scheme = 'wattwright-changes';

const untrusted = 'the editor runs no git in a folder that nobody has said to trust';

/** As much of the git extension's interface, version 1, as is asked for here. */
interface GitExtension {
  getAPI(version: 1): { getRepository(uri: Uri): Repository | null };
}
interface Repository {
  readonly rootUri: Uri;
  readonly state: { readonly HEAD?: { readonly commit?: string }; readonly onDidChange: Event<void> };
  show(revision: string, path: string): Promise<string>;
}

/** The last commit's files as far as they were asked for. A commit never changes: each is read once. */
interface Committed {
  readonly commit: string;
  readonly files: Map<string, Promise<FileText>>;
  readonly followed: Disposable;
}

export function showChanges(client: BaseLanguageClient): Disposable {
  const last = new Map<string, Committed>();
  const pages = livePages(scheme, async page => {
    const text = await client.sendRequest<string | null>('wattwright/changes', { uri: page.query });
    return text ?? 'This plant is not open any more.\n';
  });
  const registered = commands.registerCommand(command, async () => {
    const document = window.activeTextEditor?.document;
    if (document?.languageId !== 'plant') return;
    const name = document.uri.path.slice(document.uri.path.lastIndexOf('/') + 1);
    const query = client.code2ProtocolConverter.asUri(document.uri);
    await pages.show(Uri.from({ scheme, path: `/Changes of ${name}.md`, query }));
  });
  const answer = client.onRequest<FileText, void>(committedTextRequest, ({ uri }: { readonly uri: string }) => {
    return committedText(client.protocol2CodeConverter.asUri(uri), last, pages.follow);
  });
  const forget = { dispose: () => [...last.values()].forEach(({ followed }) => void followed.dispose()) };
  return Disposable.from(pages, registered, answer, forget);
}

async function committedText(uri: Uri, last: Map<string, Committed>, changed: () => void): Promise<FileText> {
  try {
    const extension = extensions.getExtension<GitExtension>('vscode.git');
    if (extension === undefined) return unreadable(workspace.isTrusted ? 'this editor has no git' : untrusted);
    const repository = (await extension.activate()).getAPI(1).getRepository(uri);
    if (repository === null) return unreadable('the editor knows no git repository around it');
    const { commit, files } = lastCommit(repository, last, changed);
    const reading = files.get(uri.fsPath) ?? read(repository, commit, uri);
    files.set(uri.fsPath, reading);
    const text = await reading;
    // The next time it may succeed.
    if (text.state === 'unreadable') files.delete(uri.fsPath);
    return text;
  } catch (error) {
    return unreadable(error instanceof Error ? error.message : String(error));
  }
}

function lastCommit(repository: Repository, last: Map<string, Committed>, changed: () => void): Committed {
  // The editor's git gives another object at each question.
  const root = repository.rootUri.toString();
  const commit = repository.state.HEAD?.commit ?? '';
  const known = last.get(root);
  if (known?.commit === commit) return known;
  const followed =
    known?.followed ??
    repository.state.onDidChange(() => {
      if (repository.state.HEAD?.commit !== last.get(root)?.commit) changed();
    });
  const now = { commit, files: new Map(), followed };
  last.set(root, now);
  return now;
}

async function read(repository: Repository, commit: string, uri: Uri): Promise<FileText> {
  try {
    const text = await repository.show(commit || 'HEAD', uri.fsPath);
    return text.length > largestFile ? tooLarge(text.length) : { state: 'text', text };
  } catch (error) {
    if (error instanceof Error && 'gitErrorCode' in error && error.gitErrorCode === 'UnknownPath') {
      return { state: 'missing' };
    }
    return unreadable(error instanceof Error ? error.message : String(error));
  }
}

function unreadable(reason: string): FileText {
  return { state: 'unreadable', reason };
}
