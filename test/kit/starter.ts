// The starter workspace as files for an analysis.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { Files } from './plants.ts';

const folder = path.resolve(import.meta.dirname, '../../client/starter');

/** All plant files of the starter, the named one first. */
export function starter(first: string): Files {
  const paths = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map(found => found.replaceAll('\\', '/'))
    .filter(found => found.endsWith('.plant') && found !== first)
    .sort();
  return new Map([first, ...paths].map(found => [found, readFileSync(path.join(folder, found), 'utf8')]));
}
