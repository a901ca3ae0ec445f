// `values` for people and for other programs.
import type { Capability, StretchView, ValueRow } from '../../../engine/analysis.ts';
import { describePoint } from '../../findings.ts';
import { inputsInWords } from '../../inputs.ts';
import type { ValuesOutput } from '../schemas.ts';
import { harmless, type Style } from '../terminal.ts';
import { finite, pointOutput } from './check-json.ts';

export function valuesAsText(rows: readonly ValueRow[], style: Style): string {
  const nameWidth = Math.max(0, ...rows.map(row => row.name.length));
  const displayWidth = Math.max(0, ...rows.map(row => row.display.length));
  return rows.map(row => showRow(row, nameWidth, displayWidth, style)).join('');
}

function showRow(row: ValueRow, nameWidth: number, displayWidth: number, style: Style): string {
  const point = describePoint(row.point);
  const inputs = inputsInWords(row.name, row.inputs, 6);
  const held = row.limit && `bound by ${row.limit.text}`;
  const remarks = [
    held,
    ...row.stretches.map(({ display }) => display),
    row.formula,
    inputs && `with ${inputs}`,
    row.source && `after ${row.source}`,
  ].filter(remark => remark !== undefined && remark !== '');
  const name = style.bold(harmless(row.name.padEnd(nameWidth)));
  const value = harmless(row.display.padStart(displayWidth));
  return [
    [name, value, style.colour('grey', harmless(point))].join('  ').trimEnd(),
    ...remarks.map(remark => `    ${harmless(String(remark))}`),
    '',
  ].join('\n');
}

export function valuesAsJson(plant: string, rows: readonly ValueRow[], capabilities: readonly Capability[]): string {
  const output: ValuesOutput = {
    version: 1,
    plant,
    values: rows.map(row => ({
      name: row.name,
      value: finite(row.value),
      unit: row.unit,
      display: row.display,
      point: pointOutput(row.point),
      formula: row.formula,
      source: row.source,
      ...(row.limit === undefined ? {} : { limit: row.limit }),
      ...(row.stretches.length === 0 ? {} : { stretches: row.stretches.map(stretchOutput) }),
      inputs: row.inputs.map(input => ({
        name: input.name,
        value: finite(input.value),
        unit: input.unit,
        display: input.display,
        kind: input.kind,
        provenance: input.provenance ?? null,
      })),
    })),
    ...(capabilities.length > 0 && {
      capabilities: capabilities.map(({ converter, case: of, outlines }) => ({
        name: `${converter}.capability`,
        case: of ?? null,
        outlines: outlines.map(({ voltage, networkVoltage, points, empty }) => ({
          voltage,
          networkVoltage,
          points: points.map(point => ({ ...point })),
          empty: empty ?? null,
        })),
      })),
    }),
  };
  return `${JSON.stringify(output, null, 2)}\n`;
}

function stretchOutput({ from, to, limit, points, display }: StretchView) {
  return {
    from,
    to,
    limit: { ...limit },
    points: points.map(({ soc, value }) => ({ soc, value: finite(value) })),
    display,
  };
}
