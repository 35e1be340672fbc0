/** Room a destination must have before a copy starts. */
/** A file system rounds each file up to its blocks; 128 KiB is the largest cluster common on cards and disks. */
const perFileBytes = 131_072;
/** Manifests, journal, and room to breathe for a disk that slows down when it is full (common practice, no source). */
const spareBytes = 64 * 1_048_576;

/** Bytes a destination should have free to take `files` of `bytes` in all. Zero when there is nothing to take. */
export function spaceNeeded(bytes: number, files: number): number {
  return files === 0 ? 0 : bytes + files * perFileBytes + spareBytes;
}
