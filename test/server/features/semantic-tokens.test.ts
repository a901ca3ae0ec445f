// Semantic colours: what each word is, as the meaning of the plant tells.
import { expect, test } from 'vitest';
import { dangerousNames, semanticTokens } from '../../../server/features/semantic-tokens.ts';
import { at } from '../../kit/feature.ts';
import { starter } from '../../kit/starter.ts';

async function tokens(source: string): Promise<readonly string[]> {
  const { context, text } = await at(source);
  return semanticTokens(context, dangerousNames(context.analysis)).map(({ start, end, type, modifiers }) => {
    return [text.slice(start, end), type, ...modifiers].join(' ');
  });
}

test('components, facts, choices and lets', async () => {
  expect(await tokens('let size = 3 mm²\ncable W1 { cross_section = size, conductor = copper }\n')).toEqual([
    'size variable declaration readonly',
    'W1 variable declaration',
    'cross_section property fact',
    'size variable readonly',
    'conductor property fact',
    'copper enumMember readonly',
  ]);
});

test('what is picked and what is assumed', async () => {
  const found = await tokens('transformer T1 { rated_power = pick, impedance = 6 % assumed "as usual" }\n');
  expect(found).toEqual([
    'T1 variable declaration',
    'rated_power property fact pick',
    'pick keyword pick',
    'impedance property fact assumed',
  ]);
});

test('results, duties, cases, functions', async () => {
  const source = `battery B1 { strings = 2 }
duty d { discharge = max(3 kW, 4 kW) }
case cold { B1.temperature = 5 °C }
require B1.current during d <= 40 A
`;
  expect(await tokens(source)).toEqual([
    'B1 variable declaration',
    'strings property fact',
    'd event declaration',
    'discharge property fact',
    'max function',
    'cold label declaration',
    'B1 variable',
    'temperature property modification fact',
    'B1 variable',
    'current property readonly result',
    'd event',
  ]);
});

test('parts, catalogues, rows, aliases', async () => {
  const parts = '--- p.plant\npart battery S {}\ncatalogue converter L {\n  a {}\n}\n';
  expect(await tokens(`use "p.plant" as x\nbattery B is x.S\nconverter K is x.L.a\n${parts}`)).toEqual([
    'x namespace declaration',
    'B variable declaration',
    'x namespace',
    'S class',
    'K variable declaration',
    'x namespace',
    'L enum',
    'a enumMember',
  ]);
});

test('a hazard colours the component that it speaks of', async () => {
  const [[, text], ...rest] = [...starter('first-draft.plant')] as [[string, string], ...[string, string][]];
  const source = `${text}\n${rest.map(([path, part]) => `--- ${path}\n${part}`).join('')}`;
  expect((await tokens(source)).filter(token => token.includes('hazard'))).not.toEqual([]);
  expect((await tokens(source.replace('secondary_voltage = 400 V', 'secondary_voltage = 360 V'))).join()).not.toContain(
    'hazard',
  );
});

test('what means nothing has no colour', async () => {
  expect(await tokens('let a = nothing\ngrid MAIN { nonsense = 5 V }\n')).toEqual([
    'a variable declaration readonly',
    'MAIN variable declaration',
  ]);
});
