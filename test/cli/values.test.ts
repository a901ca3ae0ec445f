// `values` and `explain`: numbers with where they come from.
import { afterAll, describe, expect, test, vi } from 'vitest';
import { soundExample } from '../../engine/checks/example.ts';
import { valuesOutput } from '../../server/cli/schemas.ts';
import { makeFolder } from '../kit/command.ts';

// Each test starts processes; a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const folder = makeFolder({
  'station.plant': `plant Station { altitude = 1400 m }
grid MAIN {
  voltage = 400 V ± 10 % from "letter, 4.2"
  frequency = 50 Hz
  fault_power = 9 MVA
  x_over_r = 5
}
`,
});
afterAll(() => folder.remove());

describe('values', () => {
  test('JSON is what its schema says: SI numbers with a display', () => {
    const { code, out } = folder.run('values', 'station.plant', '--format', 'json');
    const output = valuesOutput.parse(JSON.parse(out));
    expect(code).toBe(0);
    expect(output.plant).toBe('Station');
    const low = output.values.find(({ name }) => name === 'MAIN.voltage_low');
    // 400 V less 10 %.
    expect(low?.value).toBeCloseTo(360, 9);
    expect(low).toMatchObject({ unit: 'V', display: '360 V' });
    expect(low?.inputs[0]?.provenance).toContain('letter, 4.2');
  });

  test('one of them, or all of a tag', () => {
    expect(folder.run('values', 'station.plant', 'MAIN.voltage_low').out).toMatch(/^MAIN\.voltage_low +360 V\n/);
    const all = valuesOutput.parse(JSON.parse(folder.run('values', 'station.plant', 'MAIN', '--format', 'json').out));
    expect(all.values.length).toBeGreaterThan(1);
    expect(all.values.every(({ name }) => name.startsWith('MAIN.'))).toBe(true);
  });

  test('an unknown name: the nearest one, exit code 2', () => {
    const { code, out, err } = folder.run('values', 'station.plant', 'MAIN.voltage_lwo');
    expect([code, out]).toEqual([2, '']);
    expect(err).toBe('There is no value "MAIN.voltage_lwo". Did you mean MAIN.voltage_low?\n');
  });
});

describe('what a converter can do', () => {
  folder.write('mountain.plant', soundExample);

  test('is a few lines where it is asked for, and nowhere else', () => {
    const { code, out } = folder.run('values', 'mountain.plant', 'K1.capability');
    expect(code).toBe(0);
    const lines = out.trimEnd().split('\n');
    expect(lines).toHaveLength(10);
    expect(lines.slice(0, 2)).toEqual(['K1.capability', '  at the lowest network voltage, 360 V:']);
    expect(lines[2]).toMatch(
      /^ {4}active power from -\d.* kW \(the transformer, the battery\) to \d.* kW \(the transformer\)$/,
    );
    expect(folder.run('values', 'mountain.plant', 'K1').out).not.toContain('capability');
  });

  test('in JSON is the outline with what binds', () => {
    const json = folder.run('values', 'mountain.plant', 'K1.capability', '--format', 'json').out;
    const { values, capabilities } = valuesOutput.parse(JSON.parse(json));
    expect(values).toEqual([]);
    expect(capabilities).toMatchObject([{ name: 'K1.capability', case: null }]);
    expect(capabilities?.[0]?.outlines.map(({ voltage }) => voltage)).toEqual(['low', 'nominal', 'high']);
    expect(capabilities?.[0]?.outlines[0]?.points[0]).toMatchObject({ limit: 'transformer' });
  });

  test('is not asked of a transformer', () => {
    expect(folder.run('values', 'mountain.plant', 'T1.capability').code).toBe(2);
  });
});

describe('explain', () => {
  test('ends at the facts, with their source and their place', () => {
    const { code, out } = folder.run('explain', 'station.plant', 'MAIN.voltage_low');
    expect(code).toBe(0);
    expect(out).toMatch(/^MAIN\.voltage_low = 360 V\n/);
    expect(out).toMatch(/^ {2}MAIN\.voltage.* = 360 V {2}\(.*letter, 4\.2.*station\.plant:3:13\)$/m);
  });

  test('an unknown name', () => {
    const { code, err } = folder.run('explain', 'station.plant', 'MIAN.voltage_low');
    expect(code).toBe(2);
    expect(err).toBe('There is no value "MIAN.voltage_low". Did you mean MAIN.voltage_low?\n');
  });

  test('a code: why, what to do, and an example with what is said of it', () => {
    const { code, out } = folder.run('explain', 'cable_drop');
    expect(code).toBe(0);
    expect(out).toMatch(/^cable_drop\n\nA large voltage drop in a cable\.\n/);
    expect(out).toContain('Take a larger cross-section');
    expect(out).toMatch(/^ {4}cable W/m);
    expect(out).toMatch(/^> warning at /m);
    expect(Math.max(...out.split('\n').map(line => line.length))).toBeLessThan(125);
  });

  test('an unknown code: the nearest one, exit code 2', () => {
    const { code, out, err } = folder.run('explain', 'cable_drip');
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/^There is no code "cable_drip"\. Did you mean cable_drop\?\n/);
  });
});
