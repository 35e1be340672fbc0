/** Metadata of files: what the camera wrote, which frame a file is, and where its preview lies. */
export { MetadataError, readMetadata } from './readMetadata.js';
