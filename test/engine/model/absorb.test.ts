// Unknown absorbs: what could not be understood is silent from there on, and is known again once it is mended.
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../../engine/analysis.ts';
import { columnsComputed } from '../../../engine/analyze.ts';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesOf } from '../../kit/mistakes.ts';
import { analysed, type Edit, edited } from '../../kit/plants.ts';

const valuesOf = ({ values }: Analysis) => values.names.map(name => [name, values.all(name).map(row => row.value)]);

/** A fact, written so that it can't be understood, and a value that must be unknown then, and one that stays. */
const broken: readonly [Edit, string, string][] = [
  [['rated_power = 500 kVA', 'rated_power = 500 kW'], 'T1.loading', 'B1.rest_voltage_min'],
  [['power_factor = 0.95', 'power_factor = 0.95 V'], 'start_peak.network_reactive_power', 'T1.ratio'],
  [['for 45 min', 'for 45 A'], 'start_peak.network_power', 'T1.ratio'],
  [['soc = 10 % .. 90 %', 'soc = 10 V'], 'B1.rest_voltage_min', 'T1.ratio'],
  [['lowest_connected = 0 %', 'lowest_connected = 0 A'], 'K1.diode_margin', 'T1.ratio'],
  [['damping_resistance = 60 mΩ', 'damping_resistance = 60 mH'], 'K1.blocked_peak', 'B1.rest_voltage_min'],
  [['temperature = 20 °C', 'temperature = 20 V'], 'B1.inner_resistance', 'T1.ratio'],
  [['altitude = 900 m', 'altitude = 900 V'], 'K1.rated_current', 'T1.ratio'],
];

describe('a fact that was stated and not understood', () => {
  it.each(broken)('%s is never taken as not stated', (edit, unknown, stays) => {
    expect(mistakesOf(edit)).toHaveLength(1);
    const { values } = analysed(edited(soundExample, edit)).analysis;
    expect(values.worst(unknown)?.value).toBeUndefined();
    expect(values.worst(stays)?.value).toBeDefined();
  });

  it.each(broken)('%s is unknown after a sound text, and known again after it, as if started cold', edit => {
    const flawed = edited(soundExample, edit);
    const first = analysed(soundExample).analysis;
    const second = analysed(flawed, undefined, first).analysis;
    expect(valuesOf(second)).toEqual(valuesOf(analysed(flawed).analysis));
    const third = analysed(soundExample, undefined, second).analysis;
    expect(valuesOf(third)).toEqual(valuesOf(first));
  });

  it('differs from one that is left out, also for what was computed before', () => {
    const [edit] = broken[1]!;
    const flawed = analysed(edited(soundExample, edit)).analysis;
    valuesOf(flawed);
    const leftOut = edited(soundExample, [', power_factor = 0.95', '']);
    expect(valuesOf(analysed(leftOut, undefined, flawed).analysis)).toEqual(valuesOf(analysed(leftOut).analysis));
  });
});

it('computes nothing again where only blank lines and comments come', () => {
  const first = analysed(soundExample).analysis;
  valuesOf(first);
  const second = analysed(soundExample.replaceAll('\n', '\n\n# why\n'), undefined, first).analysis;
  expect(valuesOf(second)).toEqual(valuesOf(first));
  expect(columnsComputed(second)).toBe(0);
});

describe('two mistakes', () => {
  it('in different places are two findings', () => {
    expect(
      mistakesOf(['rated_power = 500 kVA', 'rated_power = 500 kW'], ['altitude = 900 m', 'altitude = 900 V']),
    ).toEqual(['wrong_dimension at "900 V"', 'wrong_dimension at "500 kW"']);
  });

  it('in one line of properties are two findings', () => {
    expect(
      mistakesOf(['discharge = 400 kW for 45 min, power_factor = 0.95', 'discharge = 400 kV, power_factor = 0.95 V']),
    ).toEqual(['wrong_dimension at "400 kV"', 'wrong_dimension at "0.95 V"']);
  });
});

describe('a line that is broken costs that line', () => {
  it.each([
    ['without its sign', ['load_loss = 5.8 kW', 'load_loss 5.8 kW'], 'syntax at "load_loss"'],
    ['without its value', ['load_loss = 5.8 kW', 'load_loss ='], 'syntax at "="'],
    ['without its name', ['  load_loss = 5.8 kW', '  = 5.8 kW'], 'syntax at "="'],
    ['that is not finished', ['load_loss = 5.8 kW', 'load_lo'], 'syntax at "load_lo"'],
    ['that is garbage', ['load_loss = 5.8 kW', '%%% ;;'], 'syntax at "%%%"'],
    ['with a quote that is open', ['load_loss = 5.8 kW', 'load_loss = 5.8 kW from "sheet'], 'syntax at ""sheet"'],
    ['with two values', ['load_loss = 5.8 kW', 'load_loss = 5.8 kW 6 kW'], 'syntax at "6 kW"'],
  ] satisfies readonly (readonly [string, Edit, string])[])('%s', (_, edit, expected) => {
    expect(mistakesOf(edit)).toEqual([expected]);
    const { values } = analysed(edited(soundExample, edit)).analysis;
    expect(values.worst('MAIN.voltage_high')?.value).toBeDefined();
    expect(values.worst('B1.rest_voltage_min')?.value).toBeDefined();
  });

  it('and a brace that is missing costs what it held together, nothing more', () => {
    expect(mistakesOf(['no_load_loss = 800 W\n}', 'no_load_loss = 800 W\n'])).toEqual(['syntax at "{"']);
    expect(mistakesOf(['transformer T1 {', 'transformer T1'])).toEqual(['syntax at "T1"']);
  });
});
