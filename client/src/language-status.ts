// The language status of the editor: which plant and how many findings, the gravest of them, when it was looked at last.
// A line for each, since the editor cuts off what is wider than half its popup.
import { Disposable, type LanguageStatusItem, LanguageStatusSeverity, languages, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { FileStatus } from '../../server/status.ts';
import { openReferenceCommand } from './open-reference.ts';

interface Seen {
  readonly status: FileStatus;
  readonly at: Date;
}

export function languageStatus(client: BaseLanguageClient): Disposable {
  const counts = createItem('counts', 'Wattwright: plant');
  counts.text = 'Wattwright';
  counts.command = { title: 'Problems', command: 'workbench.actions.view.problems' };
  // Each of the others is there only while it has something to say.
  const gravest = optionalItem('gravest', 'Wattwright: gravest finding');
  const time = optionalItem('time', 'Wattwright: time of the last check');
  const seen = new Map<string, Seen>();
  const show = (): void => {
    const document = window.activeTextEditor?.document;
    const found = document && seen.get(client.code2ProtocolConverter.asUri(document.uri));
    if (found === undefined) return;
    const { plant, counts: text, worst } = found.status;
    counts.text = `${plant ?? 'Parts'}: ${text}`;
    counts.severity = severityOf(worst);
    if (worst === null) gravest.dispose();
    else tellGravest(gravest.item(), worst);
    tellTime(time.item(), found);
  };
  return Disposable.from(
    counts,
    gravest,
    time,
    window.onDidChangeActiveTextEditor(show),
    client.onNotification('wattwright/status', (status: FileStatus) => {
      seen.set(status.uri, { status, at: new Date() });
      show();
    }),
  );
}

function createItem(id: string, name: string): LanguageStatusItem {
  const item = languages.createLanguageStatusItem(`wattwright.${id}`, { language: 'plant' });
  item.name = name;
  return item;
}

function optionalItem(id: string, name: string): Disposable & { item(): LanguageStatusItem } {
  let item: LanguageStatusItem | undefined;
  return {
    item: () => {
      item ??= createItem(id, name);
      return item;
    },
    dispose: () => {
      item?.dispose();
      item = undefined;
    },
  };
}

function tellGravest(item: LanguageStatusItem, worst: NonNullable<FileStatus['worst']>): void {
  const { hazard, code, page } = worst;
  item.text = `${hazard ? 'hazard ' : ''}${code}`;
  item.severity = severityOf(worst);
  item.command = { title: 'Reference', command: openReferenceCommand, arguments: [{ page }] };
}

function tellTime(item: LanguageStatusItem, { status: { took }, at }: Seen): void {
  const lasted = took === null ? '' : `, ${Math.max(1, Math.round(took))} ms`;
  item.text = `Checked at ${at.toLocaleTimeString()}${lasted}`;
}

function severityOf(worst: FileStatus['worst']): LanguageStatusSeverity {
  if (worst?.severity === 'error') return LanguageStatusSeverity.Error;
  if (worst?.severity === 'warning') return LanguageStatusSeverity.Warning;
  return LanguageStatusSeverity.Information;
}
