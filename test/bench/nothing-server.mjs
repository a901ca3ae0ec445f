// A language server that does nothing: what the transport and the process cost.
let pending = Buffer.alloc(0);

process.stdin.on('data', data => {
  pending = Buffer.concat([pending, data]);
  for (let end = pending.indexOf('\r\n\r\n'); end !== -1; end = pending.indexOf('\r\n\r\n')) {
    const size = Number(/content-length: *(\d+)/i.exec(pending.toString('latin1', 0, end))[1]);
    if (pending.length < end + 4 + size) return;
    const { id, method } = JSON.parse(pending.toString('utf8', end + 4, end + 4 + size));
    pending = pending.subarray(end + 4 + size);
    if (method === 'exit') process.exit(0);
    if (id !== undefined && method !== undefined) answer(id, method);
  }
});

function answer(id, method) {
  const answers = {
    initialize: { capabilities: { textDocumentSync: 2, hoverProvider: true, diagnosticProvider: {} } },
    'textDocument/diagnostic': { kind: 'full', items: [] },
  };
  const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', id, result: answers[method] ?? null }));
  process.stdout.write(`Content-Length: ${body.length}\r\n\r\n`);
  process.stdout.write(body);
}
