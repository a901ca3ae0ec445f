// The command `values`: what follows from the facts of a plant.
import type { Command } from '../command.ts';
import { capabilitiesFor, loadPlant, namesFor, noSuchValue } from '../one-plant.ts';
import { capabilityAsText } from '../reporters/capability.ts';
import { valuesAsJson, valuesAsText } from '../reporters/values.ts';

export const values: Command = {
  name: 'values',
  summary: 'prints every number that is derived from a plant, at its worst operating point',
  operands: 'FILE [NAME…]',
  leastOperands: 1,
  mostOperands: Number.POSITIVE_INFINITY,
  options: {
    format: { meaning: 'how to write the values (text)', value: ['text', 'json'] },
    'all-points': { meaning: 'every operating point, not only the worst one' },
  },
  details: `A name is a value such as K1.current, or a tag such as K1 for all of its values.
K1.capability, only where it is named, gives what that converter can do: active and
reactive power at the connection point, by network voltage, and what binds.
JSON holds SI numbers (ratios as plain numbers) with a display beside each.`,
  run: async ({ operands: [file = '', ...words], switches, values: given }, terminal) => {
    const one = await loadPlant(file, terminal);
    if (!one.ok) {
      terminal.err(`${one.message}\n`);
      return 2;
    }
    const { analysis } = one.loaded;
    const asked = words.flatMap(word => capabilitiesFor(word, analysis));
    const others = words.filter(word => capabilitiesFor(word, analysis).length === 0);
    const names = words.length === 0 ? analysis.values.names : others.flatMap(word => namesFor(word, analysis));
    const unknown = others.filter(word => namesFor(word, analysis).length === 0);
    if (unknown.length > 0) {
      for (const word of unknown) terminal.err(`${noSuchValue(word, analysis)}\n`);
      return 2;
    }
    const rows = [...new Set(names)].flatMap(name => {
      if (switches.has('all-points')) return analysis.values.all(name);
      return analysis.values.worst(name) ?? [];
    });
    terminal.out(
      given.get('format') === 'json'
        ? valuesAsJson(one.plant, rows, asked)
        : valuesAsText(rows, terminal.style) + asked.map(found => capabilityAsText(found, terminal.style)).join(''),
    );
    return 0;
  },
};
