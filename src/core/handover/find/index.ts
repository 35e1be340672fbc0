/** Public names of finding. */
export { fnv1a64, hiddenKey, plainKey, slugKey, wordsOf } from './keys.js';
export { knownOfRiders, type PeopleKnown } from './knownOfRiders.js';
export { layIndex, TOP } from './layIndex.js';
export { endedSetIds, type OwnSet, ownLinksOf, ownSetId, ownSetsOf } from './ownLinks.js';
export { findRidersOf, type KnownOfRider } from './ridersOf.js';
export { readTop, search, type Top } from './search.js';
export type * from './types.js';
