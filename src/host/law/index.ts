/** Public names of law and decency on this machine. */
export { type Down, downBy } from './down.js';
export { type ErasedReport, erasePerson } from './erasePerson.js';
export { type ExportWish, exportPerson } from './exportPerson.js';
export { type KeepReport, keepAsSaid, lookAtKept, sayRetention } from './keepUntil.js';
export { cachePlaces, type PlaceToClear, placesInMade } from './placesHere.js';
export { placesPutUpTo, type ShopToTell, shopPlace, unreachedShop } from './placesOutside.js';
export { proofsOf, takeDownAt } from './takeDownEverywhere.js';
