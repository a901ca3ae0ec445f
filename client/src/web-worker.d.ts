// The little of a browser that the extension needs there and that the types of Node don't have.

declare class Worker {
  constructor(address: string);
  terminate(): void;
}
