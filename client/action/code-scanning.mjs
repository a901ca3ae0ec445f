// The step that hands all findings to code scanning, under a category of their own, which the file itself names.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { call, repository } from './platform.mjs';
import { complain, say, workFolder } from './tools.mjs';

const file = path.join(workFolder(), 'findings.sarif');

if (!existsSync(file)) say('There are no findings to hand over.');
else {
  const sarif = gzipSync(readFileSync(file)).toString('base64');
  const body = { commit_sha: process.env.GITHUB_SHA, ref: process.env.GITHUB_REF, sarif, tool_name: 'Wattwright' };
  try {
    await call('POST', `/repos/${repository()}/code-scanning/sarifs`, body);
  } catch (error) {
    complain(
      `Code scanning did not take the findings: ${error instanceof Error ? error.message : String(error)}. It must be switched on for this repository, and the job needs "security-events: write".`,
    );
    process.exitCode = 1;
  }
}
