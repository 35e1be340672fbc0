import { expect, it } from 'vitest';
import { type GalleryProgress, galleryScale } from './progress.js';

it('GA17: a gallery’s making is one bar that only grows, and what stood already is not taken for work', () => {
  const told: GalleryProgress[] = [];
  const tell = galleryScale((progress) => told.push(progress));
  for (let n = 1; n <= 3; n++) tell('proofs', n, 3, 0);
  for (let n = 1; n <= 200; n++) tell('pictures', n, 200);
  for (let n = 1; n <= 7; n++) tell('pages', n, 7);
  expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).toSorted((a, b) => a - b));
  expect(told[2]).toMatchObject({ made: 0, count: 3, of: 3 });
  expect(told.filter(({ done, total }) => done === total)).toEqual([told.at(-1)]);
  expect(told.at(-1)!.made).toBe(told.at(-1)!.done - told[2]!.done);
});
