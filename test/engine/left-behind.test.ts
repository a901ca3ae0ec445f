// What earlier texts leave in the memory of a process that analyses one after the other.
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import type { Analysis, Snapshot } from '../../engine/analysis.ts';
import { analyze } from '../../engine/analyze.ts';
import { CheckContext } from '../../engine/checks/context.ts';
import { soundExample } from '../../engine/checks/example.ts';
import { Lowerer } from '../../engine/model/lowerer.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import { forgetExemplars } from '../../grammar/exemplars.ts';
import { parse } from '../../grammar/parse.ts';

const today = '2026-11-25';

describe('what is left behind', () => {
  it('is the last analysis alone, however long somebody edits', async () => {
    const temperatures = Array.from({ length: 80 }, (_, index) => 10 + index / 5);
    const read: WeakRef<Snapshot>[] = [];
    let previous: Analysis | undefined;
    let tree: SourceTree | undefined;
    const analyse = (): void => {
      const cases = temperatures.map((celsius, index) => {
        return `case c${index} { B1.temperature = ${celsius} °C, B1.state_of_health = 0.9 * healthy }`;
      });
      tree = parse([soundExample, 'let healthy = 100 %', ...cases].join('\n'), tree);
      const snapshot: Snapshot = { files: new Map([['main.plant', { state: 'text', tree }]]) };
      read.push(new WeakRef(snapshot));
      previous = analyze('main.plant', snapshot, { today }, previous);
    };
    analyse();
    analyse();
    const early = memoryInUse();
    for (const index of temperatures.keys()) {
      temperatures[index]! += 0.1;
      analyse();
    }
    expect(previous?.findings.map(({ code }) => code)).not.toContain('unknown_name');
    // Whoever was asked for a weak reference holds it until the turn ends.
    await new Promise(resolve => setTimeout(resolve));
    expect(memoryInUse()).toBeLessThan(1.2 * early);
    expect(read.filter(snapshot => snapshot.deref() !== undefined).length).toBeLessThan(4);
  });

  it('is one text, not each that a declaration was last changed in', () => {
    const values = Array.from({ length: 150 }, (_, index) => index);
    const remark = `# ${'Asked for by the customer. '.repeat(4000)}\n`;
    let tree: SourceTree | undefined;
    const read = (): void => {
      const lets = values.map((value, index) => `let length${index} = ${value} m # as measured in the first summer`);
      tree = parse(remark + lets.join('\n'), tree);
    };
    read();
    read();
    const early = memoryInUse();
    for (const index of values.keys()) {
      values[index]! += 1000;
      read();
    }
    expect(memoryInUse() - early).toBeLessThan(20 * remark.length);
  });

  it('is no analysis for the sweeps of the old part of the heap, which come seldom', () => {
    const remark = `# ${'Asked for by the customer. '.repeat(4000)}\n`;
    let previous: Analysis | undefined;
    let tree: SourceTree | undefined;
    const analyse = (digit: number): void => {
      tree = parse(`${remark}${soundExample}\nlet healthy = 9${digit} %`, tree);
      const snapshot: Snapshot = { files: new Map([['main.plant', { state: 'text', tree }]]) };
      previous = analyze('main.plant', snapshot, { today }, previous);
    };
    for (let digit = 0; digit < 10; digit++) analyse(digit);
    const early = memoryInUse();
    const edits = 400;
    for (let index = 0; index < edits; index++) {
      analyse(index % 10);
      // What lives while the young part is collected comes into the old one: two analyses each time.
      if (index % 20 === 19) collect({ type: 'minor' });
    }
    expect(previous?.values.worst('K1.diode_margin')?.value).toBeGreaterThan(0);
    expect(process.memoryUsage().heapUsed - early).toBeLessThan((edits / 4) * remark.length);
  });

  it('is nothing once the last plant is closed', async () => {
    let read: WeakRef<Snapshot> | undefined;
    const analyse = (): void => {
      const snapshot = snapshotOf(soundExample);
      read = new WeakRef(snapshot);
      expect(analyze('main.plant', snapshot, { today }).findings).not.toEqual([]);
    };
    const isHeld = async (): Promise<boolean> => {
      // Whoever was asked for a weak reference holds it until the turn ends.
      await new Promise(resolve => setTimeout(resolve));
      collect();
      return read?.deref() !== undefined;
    };
    analyse();
    expect(await isHeld()).toBe(true);
    forgetExemplars();
    expect(await isHeld()).toBe(false);
  });

  it('is the code that was compiled for an edit, when a pause has swept away all that the edit needed', async () => {
    let previous: Analysis | undefined;
    const analyse = (celsius: number): void => {
      const snapshot = snapshotOf(`${soundExample}\ncase warm { B1.temperature = ${celsius} °C }`);
      previous = analyze('main.plant', snapshot, { today }, previous);
    };
    const compiled = [Lowerer.prototype.property, CheckContext.prototype.practice, CheckContext.prototype.worst];
    for (let celsius = 10; !compiled.every(isOptimized) && celsius < 3000; celsius++) {
      analyse(10 + (celsius % 200) / 10);
      // Code that was compiled beside this is put in place between turns.
      await new Promise(resolve => setTimeout(resolve));
    }
    expect(compiled.map(isOptimized)).toEqual([true, true, true]);
    for (let sweep = 0; sweep < 4; sweep++) collect();
    expect(compiled.map(isOptimized)).toEqual([true, true, true]);
  });
});

function snapshotOf(text: string): Snapshot {
  return { files: new Map([['main.plant', { state: 'text', tree: parse(text) }]]) };
}

setFlagsFromString('--allow-natives-syntax');
const statusOf = new Function('code', 'return %GetOptimizationStatus(code)') as (code: unknown) => number;
setFlagsFromString('--no-allow-natives-syntax');

/** Whether V8 has compiled a function for the layouts that it has met. */
function isOptimized(code: unknown): boolean {
  const optimized = 1 << 4;
  return (statusOf(code) & optimized) !== 0;
}

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as (options?: { readonly type: 'minor' }) => void;

/** In bytes, without what nobody holds any more. */
function memoryInUse(): number {
  collect();
  return process.memoryUsage().heapUsed;
}
