export { MOST_FILE_BYTES, PocketPageError, pocketFile, pocketFolder } from './pocketPage.js';
export { zlibSqueezer } from './squeezer.js';
