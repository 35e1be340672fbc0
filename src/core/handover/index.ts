/** Public names of handing over. */
export { downIds } from './downIds.js';
export * from './law/index.js';
export { clockText, firstKeeperOf, type GalleryInput, planGallery } from './planGallery.js';
export type * from './types.js';
