// Formatting, outline, fixes, definition and the derivation view.
import { describe, expect, test } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import type { Fix } from '../../../engine/finding.ts';
import { formatText } from '../../../grammar/print.ts';
import { actionsAt, fixAll } from '../../../server/features/actions.ts';
import { definition } from '../../../server/features/definition.ts';
import { derivationPage } from '../../../server/features/derivation.ts';
import { formatting, type OffsetEdit } from '../../../server/features/formatting.ts';
import { outline } from '../../../server/features/outline.ts';
import { at } from '../../kit/feature.ts';
import { edited } from '../../kit/plants.ts';

function apply(text: string, edits: readonly OffsetEdit[]): string {
  let out = text;
  for (const { start, end, text: inserted } of edits.toSorted((a, b) => b.start - a.start)) {
    out = out.slice(0, start) + inserted + out.slice(end);
  }
  return out;
}

function applyFix(text: string, fix: Fix): string {
  return apply(
    text,
    fix.edits.map(edit => ({ ...edit.place, text: edit.text })),
  );
}

describe('formatting', () => {
  const untidy = 'grid   MAIN {\nvoltage=400 V+-10 %\n   frequency = 50 Hz\n}\n\n\n\n\nlet  a = 3 V\n';

  test('its edits lead to the one layout', () => {
    expect(apply(untidy, formatting(untidy))).toBe(formatText(untidy));
    expect(formatting(formatText(untidy))).toEqual([]);
  });

  test('lines that are fine already are left alone', () => {
    const text = 'grid MAIN {\n  voltage = 400 V\n    frequency = 50 Hz\n}\n';
    expect(formatting(text).every(({ start, end }) => text.slice(start, end).includes('frequency'))).toBe(true);
    expect(formatting(text)).toHaveLength(1);
  });
});

test('outline: the declarations in the order of the text, each name inside of its declaration', async () => {
  const { context } = await at(
    'plant P { altitude = 5 m }\nlet x = 3 V\ngrid MAIN { voltage = 400 V }\ncase c { MAIN.voltage = 410 V }\n',
  );
  expect(outline(context).map(({ kind, name }) => [kind, name])).toEqual([
    ['plant', 'P'],
    ['let', 'x'],
    ['grid', 'MAIN'],
    ['case', 'c'],
  ]);
});

const settings = { today: '2026-11-25' };

describe('fixes', () => {
  test('are offered where the finding is, and mend it', async () => {
    const { context, offset, text } = await at('let x = 0‸,4 MW\n');
    const actions = actionsAt(context, offset, offset, settings);
    expect(actions.map(({ finding }) => finding.code)).toEqual(['decimal_comma']);
    expect(applyFix(text, actions[0]!.fix)).toBe('let x = 0.4 MW\n');
  });

  test('are not offered elsewhere', async () => {
    const { context } = await at('‸let x = 0,4 MW\n');
    expect(actionsAt(context, 0, 0, settings)).toEqual([]);
  });

  test('all safe ones at once', async () => {
    const { context, text } = await at('let x = 0,4 MW\nlet y = 1,5 V\n');
    expect(applyFix(text, fixAll(context, settings)!)).toBe('let x = 0.4 MW\nlet y = 1.5 V\n');
  });

  test('none, where there is nothing safe to do', async () => {
    expect(fixAll((await at('let x = 0.4 MW\n')).context, settings)).toBeUndefined();
  });

  test('of a design are tried first: one that brings another warning is not offered', async () => {
    // The winding that blocks the diodes asks more current of the converter than the author wants.
    const text = edited(
      soundExample,
      ['secondary_voltage = 360 V', 'secondary_voltage = 470 V'],
      ['require T1.loading <= 95 %', 'require K1.loading <= 80 %'],
    );
    const { context } = await at(text);
    const [found] = context.analysis.findings.filter(({ code }) => code === 'uncontrolled_charging');
    const { start } = found!.place;
    expect(found!.fixes.map(({ title }) => title)).toEqual(['Lower the secondary voltage to 360 V']);
    expect(actionsAt(context, start, start, settings).filter(({ finding }) => finding === found)).toEqual([]);
  });
});

describe('definition', () => {
  test('from a tag to its declaration', async () => {
    const { context, offset, text } = await at('grid MAIN { voltage = 400 V }\nconnect MA‸IN -> W1\n');
    const place = definition(context, offset)?.target;
    expect(text.slice(place?.start, place?.end)).toBe('MAIN');
    expect(place?.start).toBe(5);
  });

  test('from a part to the file that holds it, and from `use` to the file', async () => {
    const part = '--- p.plant\nlet a = 1 V\npart battery Lfp { strings = 2 }\n';
    const fromPart = await at(`use "p.plant" as r\nbattery B1 is r.Lf‸p\n${part}`);
    expect(definition(fromPart.context, fromPart.offset)?.target).toEqual({ path: 'p.plant', start: 25, end: 28 });
    const fromUse = await at(`use "p.pl‸ant" as r\nbattery B1 is r.Lfp\n${part}`);
    expect(definition(fromUse.context, fromUse.offset)?.target).toEqual({ path: 'p.plant', start: 0, end: 0 });
  });
});

describe('derivation view', () => {
  test('goes down to the facts, with where they come from', async () => {
    const { context } = await at(
      'plant P { altitude = 5 m }\ngrid MAIN { voltage = 400 V ± 10 % from "letter *7*" }\n',
    );
    const page = derivationPage(context, 'MAIN.voltage_low');
    expect(page).toContain('# MAIN.voltage\\_low of P');
    expect(page).toContain('= 360 V');
    expect(page).toContain('letter \\*7\\*');
    expect(page).toContain('licensed engineer');
  });

  test('of an unknown value there is none', async () => {
    expect(derivationPage((await at('plant P { altitude = 5 m }\n')).context, 'K1.current')).toBeUndefined();
  });
});
