// Writes each message of the protocol in one piece: the library writes its head and its content one after the other, and
// whoever reads at the other end wakes up twice.
import type { Writable } from 'node:stream';
import { AbstractMessageWriter, type Message, type MessageWriter } from 'vscode-languageserver/node';

export class WholeMessageWriter extends AbstractMessageWriter implements MessageWriter {
  private readonly stream: Writable;
  private failures = 0;

  constructor(stream: Writable) {
    super();
    this.stream = stream;
    stream.on('error', error => this.fireError(error));
    stream.on('close', () => this.fireClose());
  }

  /** Messages keep their order, whoever waits for which. */
  write(message: Message): Promise<void> {
    const content = JSON.stringify(message);
    const text = `Content-Length: ${Buffer.byteLength(content)}\r\n\r\n${content}`;
    return new Promise((resolve, reject) => {
      this.stream.write(text, 'utf8', error => {
        if (error === undefined || error === null) return resolve();
        this.failures++;
        this.fireError(error, message, this.failures);
        reject(error);
      });
    });
  }

  end(): void {
    this.stream.end();
  }
}
