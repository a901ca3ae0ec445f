// Layers go one way, and the inner ones know nothing of the machine that they run on.
import { describe, expect, it } from 'vitest';
import { bareCode, codeIn, importsOf } from './sources.ts';

const layers = ['grammar', 'engine', 'server', 'client'] as const;

/** Packages that each layer may use; `node:` modules are looked at apart. */
const packages: Readonly<Record<(typeof layers)[number], readonly RegExp[]>> = {
  grammar: [/^chevrotain$/],
  engine: [],
  server: [/^vscode-languageserver(-textdocument)?(\/|$)/, /^zod(\/|$)/],
  client: [/^vscode$/, /^vscode-languageclient(\/|$)/, /^esbuild$/],
};

describe.each(layers)('%s', layer => {
  const allowed = layers.slice(0, layers.indexOf(layer) + 1);

  it('imports nothing from above it', () => {
    const wrong = codeIn(layer).flatMap(file =>
      importsOf(file)
        .filter(target => layers.some(other => target.startsWith(`${other}/`)))
        .filter(target => !allowed.some(other => target.startsWith(`${other}/`)))
        .map(target => `${file} imports ${target}`),
    );
    expect(wrong).toEqual([]);
    expect(codeIn(layer).length).toBeGreaterThan(3);
  });

  it('uses the packages that it is built on, and no others', () => {
    const wrong = codeIn(layer).flatMap(file =>
      importsOf(file)
        .filter(target => !target.startsWith('node:') && !layers.some(other => target.startsWith(`${other}/`)))
        .filter(target => !packages[layer].some(pattern => pattern.test(target)))
        .map(target => `${file} imports ${target}`),
    );
    expect(wrong).toEqual([]);
  });
});

describe('grammar and engine', () => {
  const inner = [...codeIn('grammar'), ...codeIn('engine')];

  it('import nothing of the machine', () => {
    const wrong = inner.filter(file => importsOf(file).some(target => /^(node:|vscode|fs$|path$|os$)/.test(target)));
    expect(wrong).toEqual([]);
  });

  it('have no clock, no randomness, no process, no output', () => {
    const outside =
      /\bnew Date\b|\bDate\.|\bMath\.random\b|\bperformance\b|\bprocess\b|\bconsole\b|\bsetTimeout\b|\bglobalThis\b|\brequire\(/;
    const wrong = inner.flatMap(file => {
      const found = outside.exec(bareCode(file))?.[0];
      return found === undefined ? [] : [`${file} uses ${found}`];
    });
    expect(wrong).toEqual([]);
  });
});

describe('inside the engine', () => {
  /** What each room may look at, as the contributor's guide promises. */
  const rooms: Readonly<Record<string, readonly string[]>> = {
    'engine/units': ['engine/units'],
    'engine/tables': ['engine/tables', 'engine/units'],
    'engine/physics': ['engine/physics', 'engine/units', 'engine/tables'],
    'engine/kinds': ['engine/kinds', 'engine/units', 'engine/tables', 'engine/finding.ts'],
  };

  it.each(Object.entries(rooms))('%s looks no further', (room, allowed) => {
    const wrong = codeIn(room).flatMap(file =>
      importsOf(file)
        .filter(target => !allowed.some(other => target === other || target.startsWith(`${other}/`)))
        .map(target => `${file} imports ${target}`),
    );
    expect(wrong).toEqual([]);
  });
});

describe('the file system', () => {
  it('is touched by one file of the server only', () => {
    const touching = [...codeIn('server'), ...codeIn('client/src')].filter(file =>
      importsOf(file).some(target => /^(node:)?fs(\/promises)?$/.test(target)),
    );
    // The starts read command and server themselves, before there is a host.
    expect(touching).toEqual(['server/kept-code.ts', 'server/node-host.ts']);
  });

  it('and processes belong to the build and to the pull-request action, but for git', () => {
    const starting = ['grammar', 'engine', 'server', 'client']
      .flatMap(codeIn)
      .filter(file => importsOf(file).includes('node:child_process'));
    expect(starting.filter(file => !/^client\/(build|action)\//.test(file))).toEqual(['server/git.ts']);
  });
});
