// What an analysis says it did not look at: it follows from the facts, and each output repeats it.
import { describe, expect, it } from 'vitest';
import { sound } from '../../kit/checks.ts';
import { analysed } from '../../kit/plants.ts';

const open = (plant: ReturnType<typeof analysed>): readonly string[] => plant.analysis.notChecked;

describe('what is not checked', () => {
  it('names the components that it is about', () => {
    const said = open(
      sound(['connect MAIN -> T1', 'cable W1 { length = 9 m, cross_section = 95 mm² }\nconnect MAIN -> W1 -> T1']),
    );
    expect(said).toContain('heating over time of T1, F1 and W1');
    expect(open(sound())).toContain('heating over time of T1 and F1');
  });

  it('has nothing to say of what the plant does not have', () => {
    expect(
      open(analysed('plant Hut {\n}\ngrid MAIN { voltage = 400 V ± 10 %, frequency = 50 Hz }\n')).join(),
    ).not.toMatch(/protection, of|ampacity|heating/);
  });

  it('is empty for a file of parts', () => {
    expect(open(analysed('let peak = 400 kW\n'))).toEqual([]);
  });

  it('says that the plant describes no protection, until it does', () => {
    expect(open(sound()).filter(words => words.startsWith('protection'))).toEqual([
      'protection, of which the plant describes none: fault currents, fuses, breaking capacity, cable withstand, pre-charge, earthing',
    ]);
    const fused = sound(['battery B1 {', 'fuse Q1 { rated_current = 800 A }\nbattery B1 {']);
    expect(open(fused).join()).not.toContain('describes none');
  });

  it('reads behind "not checked": a fragment in one line, no full stop, said once', () => {
    const said = open(sound());
    expect(said.length).toBeGreaterThan(3);
    expect(new Set(said).size).toBe(said.length);
    for (const words of said) expect(words).toMatch(/^\p{L}[^\n]*[^.\s]$/u);
  });
});

describe('word for word', () => {
  const starting = (words: string, plant: ReturnType<typeof analysed>) =>
    open(plant).filter(said => said.startsWith(words));

  it('protection: what is read of it, and what no plant describes', () => {
    const fused = sound(['battery B1 {', 'fuse Q1 { rated_current = 800 A }\nbattery B1 {']);
    expect(starting('protection', fused)).toEqual([
      'protection: fuses are read but not judged, nor are fault currents, breaking capacity, cable withstand, pre-charge and earthing',
    ]);
    const store = 'plant Hut {\n}\nbattery B1 { cells_in_series = 2 }\n';
    expect(starting('protection', analysed(store))).toHaveLength(1);
    expect(open(sound())).toContain('fire, gas and touch protection');
  });

  it('an island: which, and what its converters say of fault current', () => {
    const island = (facts = '') =>
      sound(
        ['power_factor = 0.95 }', 'power_factor = 0.95, mode = forming }'],
        ['ac_current = 850 A', `ac_current = 850 A${facts}`],
      );
    const rest = 'whether protection clears with so little, and harmonics without a network';
    expect(starting('fault current', island())).toEqual([
      `fault current on the island of start_peak, of which K1 says nothing (\`fault_current\`): ${rest}`,
    ]);
    expect(starting('fault current', island('\n  fault_current = 1 kA'))).toEqual([
      `fault current on the island of start_peak, which is all that its converters feed: ${rest}`,
    ]);
    expect(starting('fault current', sound())).toEqual([]);
  });

  it('many of a kind are counted from the seventh on', () => {
    const cables = (count: number) => {
      const tags = Array.from({ length: count }, (_, index) => `W${index + 1}`);
      const blocks = tags.map(tag => `cable ${tag} { length = 2 m, cross_section = 240 mm² }`).join('\n');
      const plant = sound(['connect MAIN -> T1', `${blocks}\nconnect MAIN -> ${tags.join(' -> ')} -> T1`]);
      return starting('ampacity', plant).join();
    };
    expect(cables(6)).toContain('ampacity of W1, W2, W3, W4, W5 and W6: ');
    expect(cables(8)).toContain('ampacity of W1, W2, W3, W4, W5, W6 and 2 more: ');
  });

  it('what a case alone states is stated', () => {
    const cable = [
      'connect MAIN -> T1',
      'cable W1 { length = 2 m, cross_section = 240 mm² }\nconnect MAIN -> W1 -> T1',
    ] as const;
    const lying = [
      'require T1.loading <= 95 %',
      'case usual { B1.state_of_health = 90 % }\ncase laid { W1.installation = E }',
    ] as const;
    expect(starting('ampacity', sound(cable))).toHaveLength(1);
    expect(starting('ampacity', sound(cable, lying))).toEqual([]);
  });
});
