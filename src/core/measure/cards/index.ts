/** What host, tools and screens call of the cards. */
export { CARD_MM, type CardSheet, type LaidCard, layCardSheets } from './cardSheet.js';
export { type ClockCard, clockCardText, readClockCard } from './clockCard.js';
export { mayHoldCode } from './mayHoldCode.js';
export { type NumberCard, numberCardText, readNumberCard } from './numberCard.js';
export { type ClockFrame, type ClockProposal, proposeClocks } from './proposeClocks.js';
export { type KnownCards, type NumberCardFrame, proposeRiders, type RiderProposal } from './proposeRiders.js';
export { type QrPath, type QrRuns, qrPath, qrRuns } from './qrPath.js';
export { callRoll, type IsOneBike, type RollCall, type RollCalled } from './rollCall.js';
export { hasMachine, withCards } from './seeCards.js';
export type * from './types.js';
