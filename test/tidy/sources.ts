// The files of the checkout as git knows them, and what the tidy tests read from them.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

/** All files that are or could be committed: tracked, or neither tracked nor ignored. */
export const files: readonly string[] = execFileSync('git', ['ls-files', '-z', '-co', '--exclude-standard'], {
  cwd: root,
  encoding: 'utf8',
  maxBuffer: 1e8,
})
  .split('\0')
  .filter(file => file !== '' && existsSync(path.join(root, file)))
  .sort();

const texts = new Map<string, string>();

export function textOf(file: string): string {
  const text = texts.get(file) ?? readFileSync(path.join(root, file), 'utf8');
  texts.set(file, text);
  return text;
}

export const isCode = (file: string): boolean => /\.(ts|mjs|cjs|js)$/.test(file) && !isGenerated(file);
export const isGenerated = (file: string): boolean => file.includes('.generated.');

/** Code files of a folder. */
export const codeIn = (folder: string): readonly string[] =>
  files.filter(file => file.startsWith(`${folder}/`) && /\.(ts|mjs|cjs|js)$/.test(file));

/** Names of packages, and files of the checkout by their paths, that a file imports. */
export function importsOf(file: string): readonly string[] {
  const text = textOf(file);
  const found = [
    ...text.matchAll(/^(?:import|export)\s+(?:type\s+)?[\w*\s{},]+?\s+from\s+['"]([^'"\n]+)['"]/gm),
    ...text.matchAll(/^import\s+['"]([^'"\n]+)['"]/gm),
    ...text.matchAll(/\b(?:import|require)\(\s*['"]([^'"\n]+)['"]\s*\)/gm),
  ];
  return found.map(([, specifier = '']) =>
    specifier.startsWith('.') ? path.posix.join(path.posix.dirname(file), specifier) : specifier,
  );
}

/** The text without comments and without the contents of strings. */
export function bareCode(file: string): string {
  return textOf(file)
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/(^|\s)\/\/.*$/gm, '')
    .replace(/'(?:[^'\\\n]|\\.)*'/g, "''");
}
