// What only tests call is not what a user sees: its outside figures would judge nothing.
import { expect, it } from 'vitest';
import { bareCode, codeIn, textOf } from './sources.ts';

const layers = ['grammar', 'engine', 'server', 'client'];
const imports = /^(?:import|export)\s+(?:type\s+)?\{([^}]*)\}\s+from\s+'[^'\n]*?([\w-]+\.ts)'/gm;

/** `battery.ts constantPower` for each name that a file of the product imports; folders are left out. */
const imported = new Set(
  layers
    .flatMap(codeIn)
    .flatMap(file => [...textOf(file).matchAll(imports)])
    .flatMap(([, names = '', target]) =>
      [...names.matchAll(/(?:type\s+)?(\w+)(?:\s+as\s+\w+)?/g)].map(([, name]) => `${target} ${name}`),
    ),
);

/** Exported values that nothing but their own declaration names, as `file name`. */
function unusedIn(folder: string): readonly string[] {
  return codeIn(folder).flatMap(file => {
    const code = bareCode(file);
    const exported = [...code.matchAll(/^export (?:async )?(?:function\*?|const|class) (\w+)/gm)].map(
      ([, name]) => name!,
    );
    const isNamedOnce = (name: string): boolean => code.match(new RegExp(String.raw`\b${name}\b`, 'g'))?.length === 1;
    return exported
      .filter(name => isNamedOnce(name) && !imported.has(`${file.split('/').at(-1)} ${name}`))
      .map(name => `${file} ${name}`);
  });
}

it('the physics hold nothing that only tests use', () => {
  expect(unusedIn('engine/physics')).toEqual([]);
});

it('knows what is used: by another file, or by another function of its own', () => {
  expect(imported).toContain('battery.ts constantPower');
  expect(imported).not.toContain('cable.ts skinEffectFactor');
  expect(codeIn('engine/physics').length).toBeGreaterThan(20);
});
