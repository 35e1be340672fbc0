/** What the pocket page, the laptop and the host call. */
export { codeOfDay, codeOfTaps, type PocketCode, type ReadCode, readCode, type Squeezer } from './code.js';
export { type Fitted, fitDay, MOST_QR_LETTERS } from './fit.js';
export { type Glance, glanceAt, standingFlag } from './glance.js';
export { MOST_WATCHED, type PocketInput, pocketDayOf } from './pocketDayOf.js';
export { type KnownToTaps, type SaidByTap, type TapDecision, type WhatTapsSay, whatTapsSay } from './tapsSay.js';
export * from './types.js';
