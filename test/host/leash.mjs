// Loaded into the workbench server before its own code: ends the whole process group when the tests are gone.
// A clean stop never needs it; it is for tests that were killed and could stop nothing any more.
if (process.env.WATTWRIGHT_LEASH) {
  // The server's children inherit this module, but must not act on it: they are in the same group.
  delete process.env.WATTWRIGHT_LEASH;
  process.stdin.on('end', () => process.kill(-process.pid, 'SIGKILL'));
  process.stdin.resume();
  process.stdin.unref?.();
}
