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
