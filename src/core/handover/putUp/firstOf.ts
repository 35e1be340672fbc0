import type { Gallery } from '../types.js';

/** The same gallery with one best picture of each rider: what goes up first. */
export const firstOf = (gallery: Gallery): Gallery => ({
  ...gallery,
  riders: gallery.riders.map((rider) => ({ ...rider, pictures: [rider.face] })),
});
