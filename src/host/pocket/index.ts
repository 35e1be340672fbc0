export { MOST_FILE_BYTES, pocketFile, pocketFolder } from './pocketPage.js';
export { zlibSqueezer } from './squeezer.js';
