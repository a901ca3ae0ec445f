// `check --accepted`: everything that was agreed to, for people and for other programs.
import type { ShownAcceptance } from '../gather.ts';
import type { AcceptedOutput } from '../schemas.ts';
import { harmless, type Style } from '../terminal.ts';

export function acceptedAsText(accepted: readonly ShownAcceptance[], style: Style): string {
  if (accepted.length === 0) return 'Nothing was agreed to.\n';
  return `${accepted.map(one => showOne(one, style)).join('\n')}\n${accepted.length} accepted in all${lapsed(accepted)}.\n`;
}

/** `, 1 expired, 2 unused`: what no longer counts is easily missed in a long list. */
function lapsed(accepted: readonly ShownAcceptance[]): string {
  const numbers = new Map<string, number>();
  for (const { acceptance } of accepted) numbers.set(acceptance.state, (numbers.get(acceptance.state) ?? 0) + 1);
  numbers.delete('in force');
  return [...numbers].map(([state, number]) => `, ${number} ${state}`).join('');
}

function showOne({ plant, acceptance, at }: ShownAcceptance, style: Style): string {
  const { code, subject, bound, until, because, state } = acceptance;
  const { line, column } = at.range.start;
  const terms = [bound, until === undefined ? 'without an end' : `until ${until}`].filter(Boolean).join(', ');
  const remark = state === 'in force' ? '' : `  ${style.colour('yellow', state)}`;
  return [
    `${style.bold(harmless(`${at.path}:${line}:${column}`))}: ${code} on ${harmless(subject)} of ${harmless(plant)}, ${terms}${remark}`,
    `    ${because === undefined ? 'no reason is stated' : harmless(because)}`,
    '',
  ].join('\n');
}

export function acceptedAsJson(accepted: readonly ShownAcceptance[]): string {
  const output: AcceptedOutput = {
    version: 1,
    accepted: accepted.map(({ plant, at, acceptance: { code, subject, bound, until, because, state } }) => ({
      path: at.path,
      range: at.range,
      plant,
      code,
      subject,
      bound: bound ?? null,
      until: until ?? null,
      because: because ?? null,
      state,
    })),
  };
  return `${JSON.stringify(output, null, 2)}\n`;
}
