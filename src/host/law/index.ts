/** Public names of law and decency on this machine. */
export { type Down, downBy } from './down.js';
export { type ErasedReport, erasePerson } from './erasePerson.js';
export { everyPlace } from './everyPlace.js';
export { type Exported, type ExportWish, exportPerson } from './exportPerson.js';
export { type HeldFrames, heldFrames } from './heldFrames.js';
export { type KeepReport, keepAsSaid, lookAtKept, sayRetention } from './keepUntil.js';
export { forgetLaid, rememberLaid } from './laidFolders.js';
export { framesByName, type PlaceToClear, placesInMade } from './placesHere.js';
export { type ShopToTell, shopPlace, unreachedShop } from './placesOutside.js';
export { proofsOf, takeDownAt } from './takeDownEverywhere.js';
