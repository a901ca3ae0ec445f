// The way to the circuit simulator itself: its numbers come through, and whatever goes wrong fails loudly.

import { afterEach, expect, test, vi } from 'vitest';
import { runNgspice, runNgspiceVectors } from './ngspice.ts';

const divider = (commands: string): string => `divider
V1 a 0 DC 10 AC 10
R1 a b 3k
R2 b 0 1k
C2 b 0 1u
.control
${commands}
.endc
.end`;

afterEach(() => vi.unstubAllEnvs());

test('printed values come back by name, complex ones in two parts', () => {
  const printed = runNgspice(divider('op\nprint v(b)\nac lin 1 50 50\nlet drop = v(a) - v(b)\nprint drop'));
  expect(printed.get('v(b)')).toBeCloseTo(2.5, 9);
  // 3 kΩ against 1 kΩ beside 1 µF at 50 Hz: v(b) = 10/(1 + 3000·(1/1000 + jω·1e-6)) = 10/(4 + j0.942478).
  const square = 16 + (3e-3 * 2 * Math.PI * 50) ** 2;
  expect(printed.get('drop')).toBeCloseTo(10 - 40 / square, 9);
  expect(printed.get('drop.im')).toBeCloseTo((10 * 3e-3 * 2 * Math.PI * 50) / square, 9);
});

test('sampled vectors come back with their scale', () => {
  const swept = runNgspiceVectors(divider('ac lin 3 50 150'), ['mag(v(b))', 'mag(v(a))']);
  expect([...swept.get('scale')!]).toEqual([50, 100, 150]);
  expect(swept.get('mag(v(b))')![2]).toBeCloseTo(10 / Math.hypot(4, 3e-3 * 2 * Math.PI * 150), 9);
  expect([...swept.get('mag(v(a))')!]).toEqual([10, 10, 10]);
});

test('an unknown vector, an unknown model and a run without output all throw', () => {
  expect(() => runNgspice(divider('op\nprint v(nowhere)\nprint v(b)'))).toThrow('ngspice failed');
  expect(() => runNgspice(divider('op\nprint v(b)').replace('R2 b 0 1k', 'Q2 b 0 0 nomodel'))).toThrow(
    'ngspice failed',
  );
  expect(() => runNgspice(divider('op'))).toThrow('printed no value');
});

test('without the simulator a test fails and says what to install', () => {
  vi.stubEnv('PATH', '/nowhere');
  expect(() => runNgspice(divider('op\nprint v(b)'))).toThrow('install the Debian package ngspice');
});
