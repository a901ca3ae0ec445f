// A curve asked beyond its ends: an error behind hazards and permitted currents, else a warning.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { outsideCurve as check } from '../../../engine/checks/outside-curve.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, type Edit, findingsOf, lineAt, textAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;
const foot = (soc: string) => ['{ 0 % 2.60 V, 10 % 3.20 V', `{ ${soc} 2.60 V, 10 % 3.20 V`] as const;

showsItself(check, { severity: 'error', many: true });

describe('beyond the ends', () => {
  it('sits on what asks too much, the curve beside it', () => {
    const plant = bad(check);
    const [first] = findingsOf(plant, code);
    expect(lineAt(plant, first!.place)).toBe('temperature = 50 °C');
    expect(textAt(plant, first!.related[0]!.place)).toMatch(/^(charge_current|resistance) = curve/);
    expect(first!.message).toMatch(/from 0 °C to 45 °C, and was asked at 50 °C/);
  });

  it('is an error where a maker’s permission ends, a warning where a resistance does', () => {
    expect([...complaintCodes(bad(check))].sort()).toEqual([`error ${code}`, `warning ${code}`]);
  });

  it('is not what a search for a current passes through', () => {
    const efficiency = 'efficiency = curve load { 10 % 95 %, 50 % 98.2 %, 100 % 98 % }';
    const stated = ['ac_current = 850 A', `ac_current = 850 A\n  ${efficiency}`] as const;
    const at = (place: string, power: string) =>
      sound(stated, [
        'charge = 250 kW for 90 s every 15 min',
        `charge = ${power} for 90 s every 15 min, at = ${place}`,
      ]);
    expect(findingsOf(at('B1', '250 kW'), code)).toEqual([]);
    expect(theFinding(at('B1', '25 kW'), code, 'K1').message).toContain('was asked at');
  });

  it('holds up to the ends', () => {
    expect(findingsOf(sound(['temperature = 20 °C', 'temperature = 45 °C']), code)).toEqual([]);
    expect(findingsOf(sound(foot('-0 %')), code)).toEqual([]);
  });

  it('is found where only the connected battery goes there', () => {
    const plant = sound(foot('2 %'));
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', subject: 'B1' });
    expect(findingsOf(sound(foot('2 %'), ['lowest_connected = 0 %', 'lowest_connected = 2 %']), code)).toEqual([]);
  });

  it('is found where only one duty goes there', () => {
    const plant = sound(
      foot('8 %'),
      ['lowest_connected = 0 %', 'lowest_connected = 8 %'],
      ['power_factor = 0.95 }', 'power_factor = 0.95, soc = 5 % .. 90 % }'],
    );
    expect(theFinding(plant, code).message).toMatch(/from 8 % to 100 %, and was asked at 5 %/);
  });

  it('is found for a resistance over the state of charge', () => {
    const plant = sound([
      'resistance = curve temperature { 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }',
      'resistance = curve soc { 20 % 0.2 Ω, 100 % 0.15 Ω }',
    ]);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'warning' });
    expect(theFinding(plant, code).message).toMatch(/from 20 % to 100 %, and was asked at 10 %/);
  });

  it('names the case', () => {
    const plant = sound(['require T1.loading <= 95 %', 'case frost { B1.temperature = -5 °C }']);
    const found = findingsOf(plant, code);
    expect(found.map(({ point }) => point?.case)).toEqual(['frost', 'frost']);
    expect(found[0]!.message).toContain('in case frost');
    expect(lineAt(plant, found[0]!.place)).toBe('case frost { B1.temperature = -5 °C }');
  });
});

describe('what it says', () => {
  const message = (...edits: readonly Edit[]) => told(sound(...edits), code);
  const derating = (curve: string): Edit => ['ac_current = 850 A', `ac_current = 850 A\n  ${curve}`];

  it('of a height: on the altitude, and where that is assumed, on the curve', () => {
    const curve = 'altitude_derating = curve altitude { 0 m 100 %, 800 m 90 % }';
    expect(message(derating(curve))).toEqual({
      message:
        '`altitude_derating` of K1 is stated for an altitude from 0 m to 800 m, and was asked at 900 m: the value at the end was taken, and what was judged with it is not certain.',
      at: 'altitude = 900 m',
      related: [[curve, 'The curve.']],
      limit: undefined,
      fixes: [],
    });
    expect(message(derating(curve), ['  altitude = 900 m\n', '']).at).toBe(curve);
    expect(theFinding(sound(derating(curve)), code).severity).toBe('error');
  });

  it('of the air around a converter: on the ambient; the tool’s own curve is a matter of ambient_range', () => {
    const hot: Edit = ['ambient = 5 °C .. 40 °C', 'ambient = 5 °C .. 60 °C'];
    const curve = 'ambient_derating = curve temperature { 0 °C 100 %, 50 °C 90 % }';
    expect(message(hot, derating(curve))).toMatchObject({
      message: expect.stringMatching(
        /^`ambient_derating` of K1 is stated for a temperature from 0 °C to 50 °C, .* 60 °C:/,
      ),
      at: 'ambient = 5 °C .. 60 °C',
    });
    expect(theFinding(sound(hot, derating(curve)), code).severity).toBe('warning');
    expect(findingsOf(sound(hot), code)).toEqual([]);
  });

  it('of a curve that the tool assumes: that it does', () => {
    const high: Edit = ['altitude = 900 m', 'altitude = 4500 m'];
    expect(message(high).message).toMatch(
      /^`altitude_derating` of K1 is assumed by the tool for an altitude from -500 m to 4000 m, and was asked at 4500 m: /,
    );
  });

  it('of both ends of a curve: each once, whatever cases go there', () => {
    const cases: Edit = [
      'require T1.loading <= 95 %',
      'case frost { B1.temperature = -5 °C }\ncase cold { B1.temperature = -8 °C }\ncase hot { B1.temperature = 50 °C }',
    ];
    const found = findingsOf(sound(cases), code).map(({ message }) => message);
    expect(found.filter(words => words.includes('`resistance`'))).toEqual([
      expect.stringContaining('asked at -5 °C in case frost: '),
      expect.stringContaining('asked at 50 °C in case hot: '),
    ]);
  });

  it('of a state of charge: in words, and with no fact that asks for it, on the curve', () => {
    const curve = 'resistance = curve soc { 20 % 0.2 Ω, 100 % 0.15 Ω }';
    const whole = /resistance = curve temperature .*/.exec(soundExample)![0];
    expect(message([whole, curve])).toMatchObject({
      message: expect.stringContaining(
        '`resistance` of B1 is stated for a state of charge from 20 % to 100 %, and was',
      ),
      at: curve,
    });
  });
});
