// The helper for expectations under lines fails where it must.
import { describe, expect, it } from 'vitest';
import { analysed, edited, expectFindings, filesOf, theFinding } from './plants.ts';

const text = (carets: string) => `plant P {
  altitud = 100 m
${carets}
}
`;

describe('expectations under a line', () => {
  const right = '  ^^^^^^^ error[unknown_property]: A plant has no `altitud`';
  const found = theFinding(analysed(text('')), 'unknown_property').message;

  it('hold where code, place and beginning of the message agree', () => {
    expectFindings(text(`  ^^^^^^^ error[unknown_property]: ${found.slice(0, 20)}`));
    expectFindings(text('  ^^^^^^^ error[unknown_property]'));
  });

  it.each([
    ['nothing is expected', ''],
    ['another code', '  ^^^^^^^ error[unknown_name]'],
    ['another severity', '  ^^^^^^^ warning[unknown_property]'],
    ['another place', '  ^^^^^^ error[unknown_property]'],
    ['another line', `${right.replace(/:.*/, '')}\n\n  ^^^^^^^ error[unknown_property]`],
    ['another message', '  ^^^^^^^ error[unknown_property]: Something else'],
  ])('fail on %s', (_, carets) => {
    expect(() => expectFindings(text(carets))).toThrow();
  });
});

it('files are split at their names', () => {
  expect([...filesOf('a\n#### parts/x.plant\nb\n#### y.plant\nc\n')]).toEqual([
    ['plant.plant', 'a\n'],
    ['parts/x.plant', 'b\n'],
    ['y.plant', 'c\n'],
  ]);
});

it('an edit that finds nothing to replace is a mistake', () => {
  expect(() => edited('a', ['b', 'c'])).toThrow();
});
