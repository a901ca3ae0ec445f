// Read-only pages beside the text that are made of plants: written anew whenever a plant changes, while they are shown.
import { commands, Disposable, EventEmitter, languages, type TextDocument, type Uri, window, workspace } from 'vscode';

/**
 * Milliseconds without a change after which the pages follow. Short: the editor's preview waits a while of its own
 * before it shows a changed page, and the server lets a plant that takes long come to rest first.
 */
const pause = 40;

export interface LivePages extends Disposable {
  show(page: Uri): Promise<void>;
  /** Something that the pages tell of has changed. */
  follow(): void;
}

/** `write` gives a page's Markdown; pages are told apart by their whole address, and named by its path. */
export function livePages(scheme: string, write: (page: Uri) => Promise<string>): LivePages {
  const changed = new EventEmitter<Uri>();
  const shown = new Map<string, Shown>();
  let waiting: ReturnType<typeof setTimeout> | undefined;
  let writing = 0;
  let behind = false;
  const follow = (): void => {
    clearTimeout(waiting);
    if (shown.size === 0) return;
    waiting = setTimeout(() => {
      // One at a time: where writing takes longer than the pause, questions would pile up.
      behind = writing > 0;
      if (!behind) renew(shown, changed);
    }, pause);
  };
  const provider = workspace.registerTextDocumentContentProvider(scheme, {
    onDidChange: changed.event,
    provideTextDocumentContent: async page => {
      writing += 1;
      try {
        return await write(page);
      } finally {
        writing -= 1;
        if (behind && writing === 0) {
          behind = false;
          follow();
        }
      }
    },
  });
  const isPlant = ({ languageId }: TextDocument): boolean => languageId === 'plant';
  const parts = [
    changed,
    provider,
    workspace.onDidChangeTextDocument(({ document }) => isPlant(document) && follow()),
    // Also what changes on the disk: findings are published anew then.
    languages.onDidChangeDiagnostics(({ uris }) => uris.some(({ path }) => path.endsWith('.plant')) && follow()),
    { dispose: () => clearTimeout(waiting) },
  ];
  const show = async (page: Uri): Promise<void> => {
    shown.set(page.toString(), { page, seen: false });
    // One that was shown before is made anew: the plant may have changed since.
    changed.fire(page);
    await commands.executeCommand('markdown.showPreviewToSide', page);
  };
  return Object.assign(Disposable.from(...parts), { show, follow });
}

interface Shown {
  readonly page: Uri;
  /** Its tab has come: one that is not to be found any more is closed, not on its way. */
  readonly seen: boolean;
}

function renew(shown: Map<string, Shown>, changed: EventEmitter<Uri>): void {
  const labels = window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ label }) => label));
  const open = new Set(workspace.textDocuments.map(({ uri }) => uri.toString()));
  let forgotten = false;
  for (const [key, { page, seen }] of shown) {
    const name = page.path.slice(1);
    const isThere = labels.some(label => label.includes(name));
    if (isThere && !seen) shown.set(key, { page, seen: true });
    if (seen && !isThere) shown.delete(key);
    else if (open.has(key)) changed.fire(page);
    else if (isThere) forgotten = true;
  }
  // The editor lets go of a page's text after a while, though the preview still shows it; then all previews are read anew.
  if (forgotten) void commands.executeCommand('markdown.preview.refresh');
}
