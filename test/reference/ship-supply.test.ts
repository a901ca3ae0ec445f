// Supply on board ships: the unified requirements of the classification societies and older class rules.

import { totalVoltageLimit, voltageOrderLimit } from '../../engine/tables/distortion-limits.ts';
import { shipDirectVoltage, shipSupply } from '../../engine/tables/supply-quality.ts';
import { type ReferenceCase, type ReferenceEvidence, referenceTests } from '../kit/reference.ts';

const group =
  (source: string, evidence: ReferenceEvidence) =>
  (name: string, actual: () => number | undefined, percent: number): ReferenceCase => ({
    name,
    source,
    evidence,
    actual,
    expected: percent / 100,
    tolerance: 1e-9,
  });

const e24 = group('IACS UR E24 Rev.1 (December 2018), in a reprint', 'seen in source');
referenceTests('harmonics', [e24('total distortion', () => totalVoltageLimit('iacs_ur_e24', 690)?.limit, 8)]);

const older = group('IEC 60092-101 and older class rules', 'from memory');
referenceTests('older rules', [
  older('total distortion', () => totalVoltageLimit('iec_60092_101', 690)?.limit, 5),
  older('single harmonic', () => voltageOrderLimit('iec_60092_101', 11, 690)?.limit, 3),
]);

const e5 = group('IACS UR E5 (Rev.1 2005)', 'from memory');
referenceTests('voltage and frequency', [
  e5('voltage, above', () => shipSupply.voltage.band.high, 6),
  e5('voltage, below', () => shipSupply.voltage.band.low, -10),
  e5('voltage for 1.5 s', () => shipSupply.voltageTransient.band.high, 20),
  e5('voltage for 1.5 s, below', () => shipSupply.voltageTransient.band.low, -20),
  e5('frequency, above', () => shipSupply.frequency.band.high, 5),
  e5('frequency, below', () => shipSupply.frequency.band.low, -5),
  e5('frequency for 5 s, above', () => shipSupply.frequencyTransient.band.high, 10),
  e5('frequency for 5 s, below', () => shipSupply.frequencyTransient.band.low, -10),
  e5('direct voltage, above', () => shipSupply.directVoltage.band.high, 10),
  e5('direct voltage, below', () => shipSupply.directVoltage.band.low, -10),
  e5('direct voltage, cyclic', () => shipDirectVoltage.cyclic, 5),
  e5('direct voltage, ripple', () => shipDirectVoltage.ripple, 10),
  e5('battery on charge, above', () => shipSupply.batteryWhileCharging.band.high, 30),
  e5('battery on charge, below', () => shipSupply.batteryWhileCharging.band.low, -25),
  e5('battery off charge, above', () => shipSupply.batteryNotCharging.band.high, 20),
  e5('battery off charge, below', () => shipSupply.batteryNotCharging.band.low, -25),
]);
