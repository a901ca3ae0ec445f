// The sample plant against an independent calculation from first principles.
import { describe, expect, it } from 'vitest';
import { blockedCrest, directCurrent, dischargeSeconds, facts, loaded, restVoltage } from '../../kit/hand-plant.ts';
import { analysed, valueAt, worst } from '../../kit/plants.ts';
import { starter } from '../../kit/starter.ts';

const plant = analysed(starter('valley-station.plant'), '2026-11-25');
const reactive = 400e3 * Math.tan(Math.acos(0.95));
const bands = { low: 360, nominal: 400, high: 440 } as const;
const points = Object.entries(bands).flatMap(([voltage, volts]) =>
  (['delivering', 'absorbing'] as const).map(direction => ({
    voltage: voltage as keyof typeof bands,
    volts,
    direction,
  })),
);

function expectClose(actual: number, wanted: number, tolerance: number): void {
  expect(Math.abs(actual - wanted), `${actual} against ${wanted}`).toBeLessThanOrEqual(tolerance * Math.abs(wanted));
}

describe.each(points)(
  'the start peak, $direction, at the $voltage network voltage',
  ({ voltage, volts, direction }) => {
    const hand = loaded(volts, 400e3, direction === 'delivering' ? reactive : -reactive);
    const at = { duty: 'start_peak', voltage, direction, case: undefined } as const;
    const dcPower = hand.terminalPower / facts.converterEfficiency;

    it('needs the voltage and current that the phasors give', () => {
      expectClose(valueAt(plant, 'K1.terminal_voltage', at), hand.terminalVoltage, 1e-9);
      expectClose(valueAt(plant, 'K1.current', at), hand.terminalCurrent, 1e-9);
      // 850 A, 1 % less for each 100 m above 1000 m.
      expectClose(valueAt(plant, 'K1.loading', at), hand.terminalCurrent / (850 * (1 - 0.092)), 1e-9);
      expectClose(valueAt(plant, 'F1.current', at), hand.terminalCurrent, 1e-9);
    });

    it('loads the transformer by its secondary current', () => {
      expectClose(valueAt(plant, 'T1.secondary_current', at), hand.secondaryCurrent, 1e-9);
      expectClose(valueAt(plant, 'T1.loading', at), (Math.sqrt(3) * 360 * hand.secondaryCurrent) / 500e3, 1e-9);
      expectClose(valueAt(plant, 'T1.loss', at), hand.transformerLoss, 1e-9);
      expectClose(
        valueAt(plant, 'T1.efficiency', at),
        1 - hand.transformerLoss / (400e3 + hand.cableLoss + hand.transformerLoss),
        1e-9,
      );
    });

    it('takes from the battery what the losses add', () => {
      expectClose(hand.terminalPower, 400e3 + hand.cableLoss + hand.transformerLoss + hand.filterLoss, 1e-12);
      expectClose(valueAt(plant, 'K1.terminal_power', at), hand.terminalPower, 1e-9);
      expectClose(valueAt(plant, 'K1.loss', at), dcPower - hand.terminalPower, 1e-9);
      for (const soc of [0.1, 0.9]) {
        const current = directCurrent(dcPower, soc, facts.resistance.warm);
        const inner = facts.resistance.warm / 4;
        expectClose(valueAt(plant, 'B1.current', { ...at, soc }), current, 1e-9);
        expectClose(valueAt(plant, 'B1.string_current', { ...at, soc }), current / 4, 1e-9);
        expectClose(valueAt(plant, 'B1.voltage_min', { ...at, soc }), restVoltage(soc) - current * inner, 1e-9);
        expectClose(valueAt(plant, 'K1.dc_voltage', { ...at, soc }), dcPower / current, 1e-9);
        expectClose(valueAt(plant, 'K1.voltage_available', { ...at, soc }), dcPower / current / Math.SQRT2, 1e-9);
        expectClose(
          valueAt(plant, 'K1.voltage_reserve', { ...at, soc }),
          dcPower / current / Math.SQRT2 / hand.terminalVoltage - 1,
          1e-8,
        );
        expectClose(
          valueAt(plant, 'start_peak.efficiency', { voltage, direction, soc, case: undefined }),
          400e3 / (restVoltage(soc) * current),
          1e-9,
        );
      }
    });

    it('lasts as long as a march in tenths of a second', () => {
      expectClose(valueAt(plant, 'B1.discharge_time', at), dischargeSeconds(dcPower, facts.resistance.warm, 1), 1e-3);
    });
  },
);

describe('the start peak with a worn, cool battery', () => {
  const hand = loaded(360, 400e3, reactive);
  const power = hand.terminalPower / facts.converterEfficiency;
  const at = { duty: 'start_peak', voltage: 'low', direction: 'delivering', case: 'worn_winter' } as const;

  it('draws more current and lasts less', () => {
    const string = 1.5 * facts.resistance.cool;
    expectClose(valueAt(plant, 'B1.current', { ...at, soc: 0.1 }), directCurrent(power, 0.1, string), 1e-9);
    expectClose(valueAt(plant, 'B1.discharge_time', at), dischargeSeconds(power, string, 0.8), 1e-3);
  });

  it('is the worst that the table names', () => {
    expect(worst(plant, 'B1.discharge_time').point).toMatchObject({ case: 'worn_winter', voltage: 'low' });
    expect(worst(plant, 'K1.voltage_reserve').point).toMatchObject({ case: 'worn_winter', voltage: 'high', soc: 0.1 });
  });
});

describe('braking', () => {
  it.each(Object.entries(bands))('charges through the same circuit at the %s network voltage', (voltage, volts) => {
    const hand = loaded(volts, -250e3, 0);
    const power = hand.terminalPower * facts.converterEfficiency;
    const at = { duty: 'braking', voltage: voltage as 'low', direction: 'delivering', case: undefined } as const;
    expectClose(valueAt(plant, 'K1.current', at), hand.terminalCurrent, 1e-9);
    expectClose(valueAt(plant, 'K1.terminal_voltage', at), hand.terminalVoltage, 1e-9);
    const current = directCurrent(power, 0.9, facts.resistance.warm);
    expectClose(valueAt(plant, 'B1.current', { ...at, soc: 0.9 }), -current, 1e-9);
    expectClose(valueAt(plant, 'B1.voltage_max', { ...at, soc: 0.9 }), restVoltage(0.9) - (current * 0.14) / 4, 1e-9);
    expectClose(
      valueAt(plant, 'braking.efficiency', {
        voltage: voltage as 'low',
        direction: 'delivering',
        soc: 0.9,
        case: undefined,
      }),
      (restVoltage(0.9) * current) / -250e3,
      1e-9,
    );
  });
});

describe('the blocked converter', () => {
  it('stands before the crest that node equations give, all tolerances at their worst', () => {
    expectClose(worst(plant, 'K1.blocked_peak').value, blockedCrest(), 1e-9);
    expectClose(worst(plant, 'K1.diode_margin').value, restVoltage(0) / blockedCrest() - 1, 1e-7);
    expect(worst(plant, 'K1.diode_current').value).toBe(0);
  });
});

describe('network, filter and rest', () => {
  it('follow from their definitions', () => {
    expectClose(worst(plant, 'MAIN.fault_current_min').value, 9e6 / (Math.sqrt(3) * 400), 1e-12);
    expectClose(worst(plant, 'MAIN.fault_current_max').value, 14e6 / (Math.sqrt(3) * 400), 1e-12);
    expectClose(worst(plant, 'F1.capacitor_reactive').value, 360 ** 2 * facts.omega * 300e-6, 1e-12);
    expectClose(worst(plant, 'B1.rest_voltage_min').value, 224 * 3.2, 1e-12);
    expectClose(worst(plant, 'B1.rest_voltage_max').value, 224 * 3.34, 1e-12);
  });
});
