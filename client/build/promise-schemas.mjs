// Writes the schemas of the last build into test/cli/schemas, as the promise that the compatibility test holds us to.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const built = path.join(root, 'dist/schemas');

for (const file of readdirSync(built)) {
  const text = readFileSync(path.join(built, file), 'utf8');
  const version = JSON.parse(text).properties.version.const;
  writeFileSync(path.join(root, 'test/cli/schemas', `${path.basename(file, '.json')}-${version}.json`), text);
}
