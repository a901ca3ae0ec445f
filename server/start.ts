// The file that an editor starts: sets up the process of the language server, then loads it, compiled by an earlier run.
import path from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';
import { runKept } from './kept-code.ts';

declare const __dirname: string;
/** Of the content of `server-main.cjs`. */
declare const WATTWRIGHT_SERVER: string;

// Left to itself the heap grows to a multiple of what lives in it before its old part is swept: an edit throws most of
// its analysis away, and the editor's computer has others to serve. At twice what lives the sweeps stay rare; at half
// as much again an edit would pay for them. Set first: what was compiled counts only under the same flags.
setFlagsFromString('--heap-growing-percent=100');

// The first copy of compiled code that a process makes throws away what is compiled to read typed arrays. `runKept` makes
// one ten seconds after the start, amid the first edits: so one of nothing goes before, while there is no such code.
new Script('').createCachedData();

runKept(path.join(__dirname, 'server-main.cjs'), WATTWRIGHT_SERVER, 'server');
