// Reads one file out of a zip archive that may be hostile: nothing is written, nothing else is unpacked, and no more
// than so many bytes. After the ZIP file format specification (APPNOTE.TXT 6.3), sections 4.3 and 4.4.
import { inflateRawSync } from 'node:zlib';

const endOfDirectory = 0x06054b50;
const directoryEntry = 0x02014b50;
const localHeader = 0x04034b50;

/** The text of the file with this name, which must be the only one in the archive. */
export function readOnlyFile(bytes, name, most) {
  const end = findEnd(bytes);
  if (bytes.readUInt16LE(end + 10) !== 1) throw new Error('the archive does not hold exactly one file');
  const entry = bytes.readUInt32LE(end + 16);
  if (bytes.readUInt32LE(entry) !== directoryEntry) throw new Error('the archive has no directory');
  const method = bytes.readUInt16LE(entry + 10);
  const packed = bytes.readUInt32LE(entry + 20);
  const nameLength = bytes.readUInt16LE(entry + 28);
  const found = bytes.toString('utf8', entry + 46, entry + 46 + nameLength);
  if (found !== name) throw new Error('the archive holds another file');

  const local = bytes.readUInt32LE(entry + 42);
  if (bytes.readUInt32LE(local) !== localHeader) throw new Error('the archive holds no such file');
  const start = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
  const content = bytes.subarray(start, start + packed);
  return new TextDecoder('utf-8', { fatal: true }).decode(unpack(content, method, most));
}

/** Searched from the end, where only a comment may follow. */
function findEnd(bytes) {
  for (let at = bytes.length - 22; at >= Math.max(0, bytes.length - 65_557); at--) {
    if (bytes.readUInt32LE(at) === endOfDirectory) return at;
  }
  throw new Error('this is no archive');
}

function unpack(content, method, most) {
  if (method === 8) return inflateRawSync(content, { maxOutputLength: most });
  if (method !== 0 || content.length > most) throw new Error('the file is packed in an unknown way, or too large');
  return content;
}
