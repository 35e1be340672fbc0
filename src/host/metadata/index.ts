/** Metadata of files: what the camera wrote, which frame a file is, and where its preview lies. */
export { createFrameHasher, type FrameHasher } from './frameId.js';
export { recognise } from './mediaKind.js';
export { MetadataError, readMetadata } from './readMetadata.js';
