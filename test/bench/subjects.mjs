// The servers that are measured: ours, and what a team would use in place of a plant language.
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { serverNodeOptions } from '../../server/node-options.ts';
import { plantDocument } from './inputs/plant.mjs';
import { companions, jsonDocument, typeScriptDocument, yamlDocument } from './inputs/typed.mjs';

export const benchFolder = path.dirname(fileURLToPath(import.meta.url));
export const root = path.resolve(benchFolder, '../..');
const modules = path.join(benchFolder, 'node_modules');

/**
 * A subject: how its server is started, what its documents look like, a name that is begun for completion, a word that
 * is no number, and 41 keys that make a line.
 */
export function subjects(dist) {
  return [
    {
      name: 'ours',
      command: process.execPath,
      // As the editor starts it.
      args: [...serverNodeOptions, path.join(dist, 'server.cjs'), '--stdio'],
      languageId: 'plant',
      extension: '.plant',
      document: plantDocument,
      companions: { 'package.json': '{}' },
      begun: '  no_load_c',
      wrong: 'nothing_of_this_name',
      typed: '  no_load_current = 1.50 % from "test 12 "',
    },
    {
      name: 'JSON',
      command: process.execPath,
      args: [path.join(modules, 'vscode-langservers-extracted/bin/vscode-json-language-server'), '--stdio'],
      languageId: 'json',
      extension: '.json',
      document: jsonDocument,
      companions,
      initializationOptions: { handledSchemaProtocols: ['file'] },
      // A complete line: this server offers nothing inside a half-written text.
      begun: '      "no',
      begunEnd: '": 1,',
      wrong: '"wrong"',
      typed: '      "no_load_current": "test 12 of 20 ",',
    },
    {
      name: 'TypeScript',
      command: nativeCompiler(),
      args: ['--lsp', '--stdio'],
      languageId: 'typescript',
      extension: '.ts',
      document: typeScriptDocument,
      companions,
      begun: '  no',
      wrong: "'wrong'",
      typed: "  no_load_current: 'one and a half, test'",
    },
    {
      name: 'YAML',
      command: process.execPath,
      args: [
        '--require',
        path.join(benchFolder, 'no-delay.cjs'),
        path.join(modules, 'yaml-language-server/bin/yaml-language-server'),
        '--stdio',
      ],
      languageId: 'yaml',
      extension: '.yaml',
      document: yamlDocument,
      companions,
      settings: { yaml: { validate: true, hover: true, completion: true, schemaStore: { enable: false } } },
      begun: '    no',
      wrong: 'wrong',
      typed: '    no_load_current: one and a half, test',
    },
    {
      name: 'nothing',
      command: process.execPath,
      args: [path.join(benchFolder, 'nothing-server.mjs')],
      languageId: 'yaml',
      extension: '.yaml',
      document: yamlDocument,
      companions: {},
      begun: '    no',
      typed: '    no_load_current: one and a half, test',
    },
  ].map(subject => ({ ...subject, typed: subject.typed.slice(0, 41).padEnd(41) }));
}

/** The compiler's own program, without the script that starts it. */
function nativeCompiler() {
  const name = `@typescript/typescript-${process.platform}-${process.arch}/package.json`;
  const found = createRequire(path.join(modules, 'typescript/package.json')).resolve(name);
  return path.join(path.dirname(found), 'lib', process.platform === 'win32' ? 'tsc.exe' : 'tsc');
}
