// The formatter: one layout, twice is once, and nothing is lost.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatText } from '../../grammar/print.ts';
import { mutants } from './mutants.ts';
import { commentsOf, meaningOf, samples } from './samples.ts';

describe('the layout', () => {
  const cases: Record<string, [string, string]> = {
    'puts one blank around operators': ['let a=b*( c+1 kW )/2', 'let a = b * (c + 1 kW) / 2\n'],
    'parts a number from its unit': ['let a = 400V', 'let a = 400 V\n'],
    'writes the first form of each symbol': [
      'cable W1 { reactance = 0.1 ohm/km ·2, cross_section = 35mm2, ambient = −5 degC … 40 ℃ }\nconnect A→B',
      'cable W1 { reactance = 0.1 Ω/km * 2, cross_section = 35 mm², ambient = -5 °C .. 40 °C }\nconnect A -> B\n',
    ],
    'writes ± for its other forms': ['grid M { voltage = 400 V +/- 10% }', 'grid M { voltage = 400 V ± 10 % }\n'],
    'keeps glued deviations glued': [
      'grid M { voltage = 400 V   +10% -15% }',
      'grid M { voltage = 400 V +10 % -15 % }\n',
    ],
    'parts what only looks like a deviation': ['let a = b +10 V -15 V', 'let a = b + 10 V - 15 V\n'],
    'keeps a sign at its number': ['let a = - 5 V * -b', 'let a = -5 V * -b\n'],
    'keeps a power of a unit apart from the unit': ['let a = x ^ 2 + 5 V ^ 2', 'let a = x^2 + 5 V ^ 2\n'],
    'keeps a block on its line': ['bus B{voltage=1 V,}', 'bus B { voltage = 1 V }\n'],
    'gives each property of a long block its line': [
      'grid M { voltage = 400 V,\n frequency = 50 Hz, x_over_r = 5 }',
      'grid M {\n  voltage = 400 V\n  frequency = 50 Hz\n  x_over_r = 5\n}\n',
    ],
    'breaks a block that is too wide': [
      `practice P { ${'a = 1000000000, '.repeat(9)}b = 1 }`,
      `practice P {\n${'  a = 1000000000\n'.repeat(9)}  b = 1\n}\n`,
    ],
    'aligns the rows of a curve': [
      'fuse F {\n melting = curve current log { 1.5 kA 100 s\n 20 kA 5 ms }\n}',
      'fuse F {\n  melting = curve current log {\n     1.5 kA  100 s\n    20 kA      5 ms\n  }\n}\n',
    ],
    'puts commas between rows on one line': [
      'fuse F { melting = curve current { 1 kA 9 s 2 kA 1 s, } }',
      'fuse F { melting = curve current { 1 kA 9 s, 2 kA 1 s } }\n',
    ],
    'gives a table its lines': [
      'battery B { resistance = curve soc, temperature { columns 0 °C, 25 °C 10 % 0.2 Ω, 0.14 Ω } }',
      'battery B {\n  resistance = curve soc, temperature {\n    columns  0 °C,  25 °C\n    10 %     0.2 Ω,  0.14 Ω\n  }\n}\n',
    ],
    'keeps one blank line of many, and none at the ends of a block': [
      '\n\n\ngrid M {\n\n\n  voltage = 1 V\n\n\n\n  frequency = 50 Hz\n\n}\n\n\n\nbus B\n\n\n',
      'grid M {\n  voltage = 1 V\n\n  frequency = 50 Hz\n}\n\nbus B\n',
    ],
    'keeps comments where they are': [
      '# top\n\n   ## doc\ngrid M { # behind\n# own\n  voltage = 1 V, # v\n  ## f\n  frequency = 50 Hz # f\n # last\n} # end\n# over',
      '# top\n\n## doc\ngrid M {  # behind\n  # own\n  voltage = 1 V  # v\n  ## f\n  frequency = 50 Hz  # f\n  # last\n}  # end\n# over\n',
    ],
    'indents the lines that a line goes on with': [
      'connect A -> # first\nB ->\n C',
      'connect A ->  # first\n    B ->\n    C\n',
    ],
    'keeps what it cannot read, line for line': [
      'grid  M {\n   voltage ==  1 V\n}\nbus   B',
      'grid  M {\n   voltage ==  1 V\n}\nbus B\n',
    ],
    'keeps the byte order mark and the line ends': ['\ufeffbus  B\r\nbus  C\r\n', '\ufeffbus B\r\nbus C\r\n'],
    'leaves an empty file empty': ['\n  \n', ''],
  };
  for (const [what, [before, after]] of Object.entries(cases)) {
    it(what, () => {
      expect(formatText(before)).toBe(after);
      expect(formatText(after)).toBe(after);
    });
  }
});

describe('every file', () => {
  const files = fc.oneof(mutants(Object.values(samples), 3), mutants(Object.values(samples), 25));

  it('looks the same after formatting twice as after once', () => {
    fc.assert(
      fc.property(files, text => {
        const once = formatText(text);
        expect(formatText(once)).toBe(once);
      }),
      { numRuns: 200 },
    );
  }, 60_000);

  it('means the same after formatting, and keeps its comments', () => {
    fc.assert(
      fc.property(files, text => {
        const after = formatText(text);
        expect(meaningOf(after)).toEqual(meaningOf(text));
        expect(commentsOf(after)).toEqual(commentsOf(text));
      }),
      { numRuns: 200 },
    );
  }, 60_000);
});
