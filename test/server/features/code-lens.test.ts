// Code lens: at most one for each component, with its least margin and the number of its findings.
import { expect, test } from 'vitest';
import { codeLenses } from '../../../server/features/code-lens.ts';
import { at } from '../../kit/feature.ts';
import { starterText } from '../../kit/feature-starter.ts';

async function lenses(source: string) {
  const { context, text } = await at(source);
  const { values, findings } = context.analysis;
  const found = codeLenses(context).map(lens => [text.slice(lens.start, lens.end), lens.text, lens.name] as const);
  return { found, values, findings };
}

test('a sound plant: margins only', async () => {
  const { found, values } = await lenses(starterText('valley-station.plant'));
  const worst = ['diode_margin', 'control_margin', 'voltage_reserve'].map(name => values.worst(`K1.${name}`)!.value!);
  const [converter] = found.filter(([tag]) => tag === 'K1');
  expect(values.worst(converter![2]!)?.value).toBe(Math.min(...worst));
  expect(found.map(([tag]) => tag)).toEqual(['T1', 'K1']);
  expect(found[0]).toEqual(['T1', `spare ${values.worst('T1.spare')?.display}`, 'T1.spare']);
});

test('a plant with mistakes: their number behind the margin', async () => {
  const { found, findings } = await lenses(starterText('first-draft.plant'));
  expect(new Set(found.map(([tag]) => tag)).size).toBe(found.length);
  for (const [tag, text] of found) {
    const errors = findings.filter(({ subject, severity }) => subject === tag && severity === 'error').length;
    expect(text.includes('error')).toBe(errors > 0);
    if (errors > 0) expect(text).toContain(`${errors} error`);
  }
  expect(found.some(([, text]) => text.includes('error'))).toBe(true);
  // Colour alone does not tell everybody what could hurt.
  expect(findings.filter(({ hazard, subject }) => hazard && subject === 'K1')).toHaveLength(1);
  expect(found.find(([tag]) => tag === 'K1')?.[1]).toMatch(/, among them a hazard$/);
});

test('nothing where nothing is known', async () => {
  expect(
    (await lenses('converter K1 { ac_current = 4 A }\n')).found.filter(([, text]) => text.includes('margin')),
  ).toEqual([]);
});
