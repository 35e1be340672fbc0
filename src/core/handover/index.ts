/** Public names of handing over. */
export { clockText, type GalleryInput, planGallery } from './planGallery.js';
export type * from './types.js';
