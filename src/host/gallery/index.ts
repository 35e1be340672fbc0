/** Public names of the gallery's making. */
export { GalleryError } from './galleryError.js';
export { type LaidOut, layOut } from './layOut.js';
export { type GalleryReport, type MakeGalleryOptions, makeGallery } from './makeGallery.js';
export { meetingSecret, publicIdsOf, secretSoFar } from './secret.js';
