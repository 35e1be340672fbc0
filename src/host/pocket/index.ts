export { type Carried, carryDay, hostedAddress } from './carryDay.js';
export { withCrops } from './crops.js';
export { type DayCarried, dayToCarry, ridersToMint } from './dayToCarry.js';
export { daysGiven, noteGiven } from './givenDays.js';
export { type HeardTap, type HeardTaps, hearTaps } from './hearTaps.js';
export { mintWatched, withMinted } from './mintWatched.js';
export { MOST_FILE_BYTES, pocketFile, pocketFolder, writePocketFolder } from './pocketPage.js';
export { zlibSqueezer } from './squeezer.js';
