// What the journeys share: the extension and the sample workspace that run.mjs was told, and how they break off.
import path from 'node:path';
import { repositoryFolder, shotsFolder, starterFolder } from '../places.mjs';

const { WATTWRIGHT_HOST_EXTENSION, WATTWRIGHT_HOST_VSIX, WATTWRIGHT_HOST_STARTER } = process.env;

export const product = {
  starter: WATTWRIGHT_HOST_STARTER || starterFolder,
  source: WATTWRIGHT_HOST_VSIX
    ? { vsix: WATTWRIGHT_HOST_VSIX }
    : { extension: WATTWRIGHT_HOST_EXTENSION || repositoryFolder },
};

/**
 * The steps of a journey stand on one another: after the first that fails, a picture is taken and the rest of the
 * journey is broken off. To be called inside "describe"; `editorNow` gives the open editor.
 */
export function breakOffAtFailure(name, editorNow) {
  let broken;
  beforeEach(() => {
    if (broken) throw new Error(`broken off: the step "${broken}" failed`);
  });
  afterEach(async function () {
    if (this.currentTest?.state !== 'failed') return;
    broken = this.currentTest.title;
    await editorNow()?.shot(path.join(shotsFolder, `${name}-failed.png`));
  });
}
