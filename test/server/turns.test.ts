// Taking turns: one piece of work at a time, in which order, and not before what waits has been read.
import { expect, test, vi } from 'vitest';
import { createTurns } from '../../server/turns.ts';

async function doneAfter(ask: (turns: ReturnType<typeof createTurns<string>>) => void): Promise<readonly string[]> {
  const done: string[] = [];
  const turns = createTurns<string>(key => void done.push(key));
  ask(turns);
  turns.add('last');
  await vi.waitFor(() => expect(done).toContain('last'));
  return done;
}

test('in the order in which they were asked for, each once', async () => {
  const done = await doneAfter(turns => {
    for (const key of ['a', 'b', 'a', 'c']) turns.add(key);
  });
  expect(done).toEqual(['a', 'b', 'c', 'last']);
});

test('what is to be first goes before the rest, and the latest of them before the earlier', async () => {
  const done = await doneAfter(turns => {
    for (const key of ['a', 'b', 'c']) turns.add(key);
    for (const key of ['c', 'd', 'b', 'd']) turns.add(key, { first: true });
  });
  expect(done).toEqual(['d', 'b', 'c', 'a', 'last']);
});

test('what was taken out is not done, and asked for again it has no privilege any more', async () => {
  const done = await doneAfter(turns => {
    turns.add('a');
    turns.add('b', { first: true });
    turns.remove('b');
    turns.add('c', { first: true });
    turns.remove('c');
    turns.add('c');
  });
  expect(done).toEqual(['a', 'c', 'last']);
});
