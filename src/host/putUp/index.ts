/** Public names of putting up. */

export { hostKeyOf } from './hostKey.js';
export { openPlace } from './openPlace.js';
export { forgetPlace, keepPlace, knownPlaces, type Places, placeIn } from './places.js';
export {
  type PutUpOptions,
  type PutUpProgress,
  type PutUpReport,
  planFor,
  putUp,
  takeAway,
  withdrawFrom,
} from './putUp.js';
export { PutUpError } from './putUpError.js';
export { type PutUpStanding, putUpStandings } from './standing.js';
export type { Place, PlaceAddress } from './types.js';
export { withdrawnIds } from './withdrawnIds.js';
