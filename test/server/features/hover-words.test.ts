// Hovers over what stands between the names: words, signs, texts, days and numbers.
import { describe, expect, test } from 'vitest';
import { starterText } from '../../kit/feature-starter.ts';
import { shown } from '../../kit/hover.ts';

const accepted = 'accept transformer_spare on T1 down to 5 % until 2027-06-30 because "agreed"\n';

describe('words and signs', () => {
  test.each([
    ['le‸t peak = 400 kW\n', 'let', 'let'],
    ['part battery P { strings = 1 }\nbattery B1 i‸s P\n', 'is', 'is'],
    ['connect MAIN -‸> W1\n', '->', '->'],
    ['grid MAIN { voltage = 400 V ‸± 10 % }\n', '±', '±'],
    ['grid MAIN { voltage = 400 V +‸/- 10 % }\n', '+/-', '±'],
    ['plant P { ambient = 5 °C .‸. 40 °C }\n', '..', '..'],
    ['duty d { discharge = 400 kW f‸or 45 min }\n', 'for', 'for'],
    ['let a = ma‸x(3 kW, 4 kW)\n', 'max', 'max'],
    ['part battery P { voltage_limits = 2.8 V .. 3.6 V per ce‸ll }\n', 'cell', 'cell'],
    ['ca‸se winter { B1.temperature = 5 °C }\n', 'case', 'case'],
    [accepted.replace('until', 'un‸til'), 'until', 'until'],
  ])('%s', async (marked, of, word) => {
    const found = await shown(marked);
    expect(found?.of).toBe(of);
    expect(found?.says.startsWith(`**${word}**: `)).toBe(true);
  });

  test('a text or a day is explained by the word before it', async () => {
    const text = await shown('grid MAIN { voltage = 400 V from "let‸ter" }\n');
    expect(text?.of).toBe('"letter"');
    expect(text?.says).toMatch(/^\*\*from\*\*: /);
    expect((await shown(accepted.replace('2027', '20‸27')))?.says).toMatch(/^\*\*until\*\*: /);
  });

  test('a name that is spelt like a function, a comment and a brace say nothing', async () => {
    expect(await shown('let mi‸n = 3 kW\n')).toMatchObject({ says: '`let min = 3 kW`' });
    expect(await shown('# let it be: fo‸r\n')).toBeUndefined();
    expect(await shown('grid MAIN {  ‸  }\n')).toBeUndefined();
  });
});

describe('what is used', () => {
  const names = '- `catalogue converter range.AirCooled`\n- `part converter range.Quiet`';
  test.each([
    ['"parts/converters.plant"', '"parts/conver‸ters.plant"'],
    ['as range', 'as ran‸ge'],
    ['is range.AirCooled', 'is ran‸ge.AirCooled'],
  ])('%s tells what comes from the file', async (text, marked) => {
    const found = await shown(starterText('valley-station.plant', undefined, [text, marked]));
    expect(found?.says).toContain(names);
  });

  test('a row of a catalogue says the same where it is declared and where it is taken', async () => {
    const rows = 'catalogue converter Air {\n  ## The small one.\n  kva350 { ac_current = 560 A }\n}\n';
    const declared = await shown(rows.replace('kva350', 'kva‸350'));
    expect(declared).toEqual({ of: 'kva350', says: '`kva350 { ac_current = 560 A }`\n\nThe small one.' });
    expect((await shown(`${rows}converter K1 is Air.kva‸350\n`))?.says).toBe(declared!.says);
  });

  test('a file that is not there tells nothing', async () => {
    expect((await shown('use "par‸ts/gone.plant"\n'))?.says ?? '').not.toContain('come');
  });

  test('of a file with many names the first ones and how many more there are', async () => {
    const lets = Array.from({ length: 15 }, (_, index) => `let a${index} = ${index} kW\n`).join('');
    const found = await shown(`use "ma‸ny.plant"\n--- many.plant\n${lets}`);
    expect(found?.says).toMatch(/`let a11`\n- and 3 more$/);
  });
});

describe('numbers', () => {
  test('with a unit: what they measure, wherever in them the mark stands', async () => {
    for (const marked of ['35‸0 mm²', '350 m‸m²'])
      expect(await shown(`cable W1 { cross_section = ${marked} }\n`)).toEqual({
        of: '350 mm²',
        says: '350 mm² is an area: 0.00035 m²',
      });
  });

  test('with a tolerance: also the ends of their property, and not those of another', async () => {
    const said = async (marked: string) => (await shown(`grid MAIN { ${marked} }\n`))?.says;
    expect(await said('voltage = 4‸00 V ± 10 %')).toBe('400 V is a voltage\n\nValue: 400 V \\(360 V .. 440 V\\)');
    expect(await said('voltage = 400 V ± 1‸0 %')).toBe('10 % is a ratio: 0.1\n\nValue: 400 V \\(360 V .. 440 V\\)');
    expect(await said('voltage = 4‸00 V')).toBe('400 V is a voltage');
  });

  test('a clause is not its property', async () => {
    const text = 'let peak = 400 kW\nduty d { discharge = peak for 4‸5 min }\n';
    expect((await shown(text))?.says).toBe('45 min is a time: 2700 s');
  });

  test('of a curve, and what it depends on: what they measure, and the property', async () => {
    const curve = 'part battery P { resistance = curve temperature { 0 °C 0.28 Ω, 25 °C 0.14 Ω } }\n';
    expect((await shown(curve.replace('0.14', '0.1‸4')))?.says).toBe('0.14 Ω is a resistance');
    const axis = await shown(curve.replace('temperature', 'temp‸erature'));
    expect(axis?.of).toBe('temperature');
    expect(axis?.says).toMatch(/^\*\*resistance\*\* of a battery/);
  });

  test('without a unit, and words of a choice: the property', async () => {
    expect((await shown('cable W1 { parallel = ‸4 }\n'))?.says).toMatch(/^\*\*parallel\*\* of a cable/);
    expect((await shown('cable W1 { conductor = cop‸per }\n'))?.says).toMatch(/^\*\*conductor\*\* of a cable/);
  });
});

describe('a property', () => {
  const says = async (marked: string) => (await shown(marked))?.says ?? '';

  test('tells what an expression comes to, in each case its own', async () => {
    const text = 'let one = 4\nbattery B1 { strin‸gs = 2 * one }\ncase less { B1.strings = B1.strings - 1 }\n';
    expect(await says(text)).toContain('\n\nValue: 8\n\n');
    const inCase = text.replace('‸', '').replace('B1.strings =', 'B1.str‸ings =');
    expect(await says(inCase)).toContain('\n\nValue: 7\n\n');
  });

  test('says nothing twice', async () => {
    for (const value of ['400 V', '360 V .. 440 V'])
      expect(await says(`grid MAIN { volt‸age = ${value} }\n`)).not.toContain('Value:');
    expect(await says('practice Ours { }\nplant P { foll‸ows = Ours }\n')).not.toContain('Value:');
  });
});
