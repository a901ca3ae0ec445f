// Document links: paths behind `use` that lead somewhere.
import { expect, test } from 'vitest';
import { documentLinks } from '../../../server/features/document-links.ts';
import { at } from '../../kit/feature.ts';

test('a file that is there has a link on its path, one that is missing has none', async () => {
  const { context, text } = await at(
    'use "a/p.plant"\nuse "gone.plant"\nuse "../out.plant"\n--- a/p.plant\nlet a = 3 V\n',
  );
  const links = documentLinks(context).map(({ place, target }) => [text.slice(place.start, place.end), target]);
  expect(links).toEqual([['a/p.plant', 'a/p.plant']]);
});
