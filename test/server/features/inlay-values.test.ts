// Inlay values: few, at the end of the lines that decide them, and what a pick stands for.
import { describe, expect, test } from 'vitest';
import { inlayValues } from '../../../server/features/inlay-values.ts';
import { twoChoppers } from '../../kit/choppers.ts';
import { at } from '../../kit/feature.ts';
import { starterText } from '../../kit/feature-starter.ts';

async function lines(source: string): Promise<readonly string[]> {
  const { context, text } = await at(source);
  return inlayValues(context, 0, text.length).map(({ offset, text: value }) => {
    const start = text.lastIndexOf('\n', offset - 1) + 1;
    return `${text.slice(start, offset).trim()} ⟨${value}⟩`;
  });
}

describe('the valley station', () => {
  test('one value for each line that decides one', async () => {
    const found = await lines(starterText('valley-station.plant'));
    expect(found.map(line => line.replace(/⟨(\D+) [^⟩]*⟩/, '⟨$1 …⟩'))).toEqual([
      'rated_power = 500 kVA ⟨loaded to …⟩',
      'secondary_voltage = 360 V ⟨possible …⟩',
      'capacitance = 300 µF ⟨resonance …⟩',
      'converter K1 is range.AirCooled.kva550 ⟨loaded to …⟩',
      'strings = 4 ⟨lasts …⟩',
    ]);
  });

  test('what they say is the value itself', async () => {
    const { context, text } = await at(starterText('valley-station.plant'));
    const [loading] = inlayValues(context, 0, text.length);
    expect(loading?.name).toBe('T1.loading');
    expect(loading?.text).toBe(`loaded to ${context.analysis.values.worst('T1.loading')?.display}`);
    expect(loading?.tooltip).toContain('duty start_peak');
  });

  test('only those of the asked lines', async () => {
    const { context, text } = await at(starterText('valley-station.plant'));
    const from = text.indexOf('filter F1');
    expect(inlayValues(context, from, from + 80).map(({ name }) => name)).toEqual(['F1.resonance_max']);
  });
});

test('where no secondary voltage is possible it says so, with what each end asks for', async () => {
  const source = starterText('valley-station.plant', undefined, ['let peak = 400 kW', 'let peak = 1400 kW']);
  const { context, text } = await at(source);
  const { values } = context.analysis;
  const [least, most] = ['T1.winding_min', 'T1.winding_max'].map(name => values.worst(name)!);
  expect(least!.value).toBeGreaterThan(most!.value!);
  expect(inlayValues(context, 0, text.length).map(value => value.text)).toContain(
    `none possible: at least ${least!.display}, at most ${most!.display}`,
  );
});

test('a pick says what was picked', async () => {
  const source = starterText('valley-station.plant', undefined, ['rated_power = 500 kVA', 'rated_power = pick']);
  const [picked, loading] = await lines(source);
  expect(picked).toMatch(/^rated_power = pick ⟨= \d+ kVA⟩$/);
  expect(loading).toMatch(/^rated_power = pick ⟨loaded to [\d.]+ %⟩$/);
});

test('what is not known is not shown', async () => {
  expect(await lines('transformer T1 { rated_power = 500 kVA }\n')).toEqual([]);
});

test('each of several choppers says how far it is loaded', async () => {
  const found = (await lines(twoChoppers)).filter(line => line.startsWith('current ='));
  expect(found).toHaveLength(2);
  for (const line of found) expect(line).toMatch(/^current = 750 A ⟨loaded to [\d.]+ %⟩$/);
});
