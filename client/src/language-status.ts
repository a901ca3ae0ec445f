// The language status of the editor: which plant, its gravest finding, and when it was looked at last.
import { Disposable, type LanguageStatusItem, LanguageStatusSeverity, languages, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { FileStatus } from '../../server/status.ts';

interface Seen {
  readonly status: FileStatus;
  readonly at: Date;
}

export function languageStatus(client: BaseLanguageClient): Disposable {
  const item = languages.createLanguageStatusItem('wattwright.status', { language: 'plant' });
  item.name = 'Wattwright';
  item.text = 'Wattwright';
  item.command = { title: 'Show Problems', command: 'workbench.actions.view.problems' };
  const seen = new Map<string, Seen>();
  const show = (): void => {
    const document = window.activeTextEditor?.document;
    const found = document && seen.get(client.code2ProtocolConverter.asUri(document.uri));
    if (found !== undefined) tell(item, found);
  };
  return Disposable.from(
    item,
    window.onDidChangeActiveTextEditor(show),
    client.onNotification('wattwright/status', (status: FileStatus) => {
      seen.set(status.uri, { status, at: new Date() });
      show();
    }),
  );
}

function tell(item: LanguageStatusItem, { status: { plant, counts, worst, took }, at }: Seen): void {
  const time = at.toLocaleTimeString();
  const lasted = took === null ? '' : `, ${Math.max(1, Math.round(took))} ms`;
  item.text = `${plant ?? 'Parts'}: ${counts}`;
  item.detail = `${worst === null ? 'nothing found' : `${worst.hazard ? 'hazard ' : ''}${worst.code}`}, checked at ${time}${lasted}`;
  item.severity =
    worst?.severity === 'error'
      ? LanguageStatusSeverity.Error
      : worst?.severity === 'warning'
        ? LanguageStatusSeverity.Warning
        : LanguageStatusSeverity.Information;
}
