import type { Takedowns } from '../finish/index.js';
import type { PublicId, PublicIdOf } from './types.js';

/** Public ids of what was taken down: pictures, the faces cut from them, riders. */
export const downIds = (
  { frames, riderIds }: Pick<Takedowns, 'frames' | 'riderIds'>,
  idOf: PublicIdOf,
): readonly PublicId[] => [
  ...[...frames].flatMap((frame) => [idOf('frame', frame), idOf('face', frame)]),
  ...[...riderIds].map((rider) => idOf('rider', rider)),
];
