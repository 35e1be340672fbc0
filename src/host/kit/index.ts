/** Looks at frames for what the kit did. */
export { type KitLooker, startKitLooker } from './kitLooker.js';
export type { LookAnswer, SpotInFrame } from './look.js';
export { sessionsToCome } from './sessionsToCome.js';
