/** Public names of the gallery's making. */
export { GalleryError } from './galleryError.js';
export { type GalleryProgress, type GalleryReport, type MakeGalleryOptions, makeGallery } from './makeGallery.js';
export { meetingSecret, secretSoFar } from './secret.js';
