// `connect`: chains build the one-line; what hangs loose, is misnamed or stands on the wrong side is told once.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { messagesOf, mistakesOf, notesIn } from '../../kit/mistakes.ts';
import { analysed, type Edit, edited, fixed, worst } from '../../kit/plants.ts';

const line = 'connect MAIN -> T1 -> F1 -> K1 -> B1';
const chain = (text: string): Edit => [line, text];
const cable = 'cable W1 { length = 5 m, cross_section = 240 mm², conductor = copper, insulation = xlpe }';
const twin = 'converter K2 { ac_current = 850 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }';

describe('a chain', () => {
  it.each([
    ['in pieces', 'connect MAIN -> T1 -> F1\nconnect F1 -> K1 -> B1'],
    ['in pieces, in any order', 'connect K1 -> B1\nconnect T1 -> F1 -> K1\nconnect MAIN -> T1'],
    ['through a bus', 'bus S1 { }\nconnect MAIN -> S1\nconnect S1 -> T1 -> F1 -> K1 -> B1'],
  ])('%s is the same line', (_, text) => {
    expect(mistakesOf(chain(text))).toEqual([]);
    const loading = worst(analysed(edited(soundExample, chain(text))), 'K1.loading').value;
    expect(loading).toBeCloseTo(worst(analysed(soundExample), 'K1.loading').value, 12);
  });

  it('may fork to several converters, which then have no choke between them', () => {
    expect(mistakesOf(chain(`${twin}\n${line}\nconnect F1 -> K2 -> B1`))).toEqual(['circulating_current at "K1"']);
  });
});

describe('a link that is none', () => {
  it.each([
    ['misspelt', 'connect MAIN -> T1 -> F2 -> K1 -> B1', 'unknown_name at "F2"'],
    ['unknown', 'connect MAIN -> T1 -> Xyz -> K1 -> B1', 'unknown_name at "Xyz"'],
    ['too much', 'connect MAIN -> W9 -> T1 -> F1 -> K1 -> B1', 'unknown_name at "W9"'],
    ['a duty', 'connect MAIN -> T1 -> F1 -> K1 -> start_peak', 'wrong_value at "start_peak"'],
    ['the plant', 'connect MountainStation -> MAIN -> T1 -> F1 -> K1 -> B1', 'wrong_value at "MountainStation"'],
    ['missing', 'connect MAIN -> T1 -> -> K1 -> B1', 'syntax at "->"'],
    ['the same again', 'connect MAIN -> T1 -> T1 -> F1 -> K1 -> B1', 'duplicate at "T1"'],
    ['back to the start', 'connect MAIN -> T1 -> F1 -> K1 -> B1 -> MAIN', 'duplicate at "MAIN"'],
    ['alone', 'connect MAIN', 'syntax at "connect"'],
    ['not there yet', 'connect', 'syntax at "connect"'],
  ])('%s is one mistake', (_, text, expected) => expect(mistakesOf(chain(text))).toEqual([expected]));

  it('gets the nearest tag', () => {
    expect(messagesOf(chain('connect MAIN -> T1 -> F2 -> K1 -> B1'))[0]).toContain('did you mean `F1`?');
  });

  it('makes unknown what lies behind it, and nothing else', () => {
    const { analysis } = analysed(edited(soundExample, chain('connect MAIN -> W9 -> T1 -> F1 -> K1 -> B1')));
    expect(analysis.values.worst('K1.blocked_voltage')?.value).toBeUndefined();
    expect(analysis.values.worst('B1.rest_voltage_min')?.value).toBeGreaterThan(0);
    expect(analysis.values.worst('MAIN.voltage_high')?.value).toBeGreaterThan(0);
  });
});

describe('what hangs loose', () => {
  it.each<[string, string, string | readonly string[]]>([
    ['a component that no chain names', `${cable}\n${line}`, 'warning unconnected at "W1"'],
    [
      'a component beside the line',
      'connect MAIN -> T1 -> K1 -> B1',
      // Without its filter the transformer carries all the ripple of the switching.
      ['warning harmonic_loading at "rated_power = 500 kVA"', 'warning unconnected at "F1"'],
    ],
    ['a line without battery', 'connect MAIN -> T1 -> F1 -> K1', 'warning unconnected at "K1"'],
    ['a line without network', 'connect T1 -> F1 -> K1 -> B1', 'warning unconnected at "T1"'],
    ['a branch that ends', `${cable}\n${line}\nconnect T1 -> W1`, 'warning unconnected at "W1"'],
    ['a line without converter', 'connect MAIN -> T1 -> F1 -> B1', 'unconnected at "B1"'],
    ['a way round the converter', `${cable}\n${line}\nconnect T1 -> W1 -> B1`, 'unconnected at "B1"'],
    [
      'a converter behind a converter',
      `${twin}\nconnect MAIN -> T1 -> F1 -> K1 -> K2 -> B1`,
      'warning unconnected at "K1"',
    ],
  ])('%s is told once', (_, text, expected) => expect(mistakesOf(chain(text))).toEqual([expected].flat()));

  it('is told where it should lead', () => {
    expect(messagesOf(chain('connect MAIN -> T1 -> F1 -> K1'))[0]).toContain('B1 stands in no `connect`');
  });
});

describe('the wrong side', () => {
  it.each([
    ['a transformer behind the converter', 'connect MAIN -> F1 -> K1 -> T1 -> B1', 'unconnected at "T1"'],
    ['a filter behind the converter', 'connect MAIN -> T1 -> K1 -> F1 -> B1', 'unconnected at "F1"'],
    [
      'a chopper before it',
      'chopper C1 { current = 5 A }\nconnect MAIN -> T1 -> C1 -> F1 -> K1 -> B1',
      'unconnected at "C1"',
    ],
  ])('%s is told', (_, text, expected) => {
    expect(mistakesOf(chain(text)).filter(mistake => mistake.includes('unconnected'))).toEqual([expected]);
  });
});

describe('no chain at all', () => {
  it('is taken in the customary order, as a note with the line to write', () => {
    const plant = analysed(edited(soundExample, chain('')));
    expect(worst(plant, 'K1.loading').value).toBeCloseTo(worst(analysed(soundExample), 'K1.loading').value, 12);
    const note = plant.analysis.findings.find(
      ({ code, message }) => code === 'assumed_by_tool' && message.includes(line),
    );
    expect([...fixed(plant.files, note!.fixes[0]!).values()][0]).toContain(`\n${line}\n`);
    expect(notesIn(plant, 'assumed_by_tool')).toContain('assumed_by_tool at "B1"');
  });

  it('is one finding where the order is not clear', () => {
    expect(mistakesOf(chain(twin))).toEqual(['warning unconnected at "MountainStation"']);
  });

  it('says what there is none of', () => {
    const text = edited(soundExample, chain('')).replace(/grid MAIN \{[^}]*\}/, '');
    const { analysis } = analysed(text);
    expect(analysis.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(analysis.findings.find(({ code }) => code === 'unconnected')?.message).toContain('there is no grid');
  });
});
