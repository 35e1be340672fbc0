/** Reads one file's metadata and identity. Never throws for what is in a file: what is wrong becomes a sentence. */

import type { FileHandle } from 'node:fs/promises';
import { open } from 'node:fs/promises';
import type { FileId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { METADATA_VERSION } from '../../core/measure/versions.js';
import { type ExifReading, NOTHING_RECORDED, readExif } from './exif.js';
import { createFrameHasher, wholeFile } from './frameId.js';
import { type JpegHeader, readJpegHeader } from './jpegHeader.js';
import type { ScanEnd } from './jpegScan.js';
import { type Recognised, recognise } from './mediaKind.js';
import { readNikonSerial } from './nikonSerial.js';
import { type EmbeddedPicture, previewsOfJpeg } from './previews.js';
import { readRaw } from './raw.js';
import { type ByteSource, fileSource, HEAD_BYTES } from './source.js';

/** Stays in a core's own cache between reading, searching and hashing. */
const CHUNK_BYTES = 256 * 1024;

/** The disk failed, not the file: nothing is remembered and the file is read again later, or from the other copy. */
export class MetadataError extends Error {
  override readonly name = 'MetadataError';
  readonly path: string;

  constructor(path: string, cause: Error) {
    super(
      `Expected to read ${JSON.stringify(path)} but the disk answered: ${cause.message}. Check that the disk is connected; the file is read again when it is.`,
      { cause },
    );
    this.path = path;
  }
}

/**
 * `fileId` is the hash of all bytes of the file at `path`, as its manifest vouches. Whatever is in the file gives an
 * answer, with sentences in `notes`; throws MetadataError only where the file cannot be opened or read.
 */
export const readMetadata = async (path: string, fileId: FileId): Promise<FileMetadata> => {
  let handle: FileHandle | undefined;
  try {
    handle = await open(path, 'r');
    const { size } = await handle.stat();
    const source = await fileSource(handle, size);
    const recognised = recognise(path, await source.read(0, 16));
    if (size === 0) return nothingToRead(fileId, recognised, 0, EMPTY);
    if (recognised.layout === 'jpeg') return await readJpeg(handle, source, fileId);
    if (recognised.media === 'raw') return await fromRaw(source, recognised, fileId);
    const notes = recognised.isBroken ? brokenSentence(await source.read(0, 4)) : [];
    return nothingToRead(fileId, recognised, size, notes);
  } catch (error) {
    throw new MetadataError(path, error as Error);
  } finally {
    await handle?.close();
  }
};

const EMPTY = [
  'Expected a picture but this file is empty (0 bytes). Copy it from the card again; if it is empty there too, the camera never wrote it.',
];

const brokenSentence = (opening: Buffer): string[] => [
  `Expected a picture but the file begins with ${opening.toString('hex')} instead of a start marker. Copy it from the card again; if it is the same there, a recovery program may help. Do not format the card.`,
];

const readJpeg = async (handle: FileHandle, source: ByteSource, fileId: FileId): Promise<FileMetadata> => {
  const header = (await readJpegHeader(source)) as JpegHeader;
  const exif = readExif(await source.read(0, header.endsAt));
  const previews = await previewsOfJpeg(source, header);
  const serial = await serialOf(source, header, exif);
  const hasher = await createFrameHasher();
  await stream(handle, source, (chunk) => hasher.push(chunk));
  return assemble({
    fileId,
    frameId: hasher.frameId(exif.fields.captured, fileId),
    media: 'jpeg',
    bytes: source.size,
    exif: { ...exif.fields, ...(serial === undefined ? {} : { body: { ...exif.fields.body, serial } }) },
    size: header.size,
    preview: previews.best,
    notes: [...exif.notes, ...previews.notes, ...scanNotes(hasher.end, source.size)],
  });
};

const serialOf = async (source: ByteSource, header: JpegHeader, exif: ExifReading): Promise<string | undefined> => {
  const { make, serial } = exif.fields.body;
  if (serial !== undefined || header.exifAt === null || !/nikon/i.test(make ?? '')) return serial;
  return readNikonSerial(source, header.exifAt);
};

/** From the first byte in order until `take` says enough; the head is in memory already and is not read twice. */
const stream = async (handle: FileHandle, source: ByteSource, take: (chunk: Uint8Array) => boolean): Promise<void> => {
  const head = await source.read(0, HEAD_BYTES);
  let at = head.length;
  let wantsMore = take(head);
  const chunk = Buffer.allocUnsafe(Math.min(CHUNK_BYTES, Math.max(1, source.size - at)));
  while (wantsMore && at < source.size) {
    const { bytesRead } = await handle.read(chunk, 0, chunk.length, at);
    if (bytesRead === 0) return;
    wantsMore = take(chunk.subarray(0, bytesRead));
    at += bytesRead;
  }
};

const scanNotes = (end: ScanEnd, size: number): string[] => {
  if (end === 'end-marker') return [];
  const what = end === 'no-scan' ? 'stops before the picture begins' : 'stops before the picture ends';
  return [
    `Expected a whole picture but the file ${what} (${size} bytes). Copy it from the card again; if it is as short there, the camera was switched off while writing.`,
  ];
};

const fromRaw = async (source: ByteSource, recognised: Recognised, fileId: FileId): Promise<FileMetadata> => {
  const raw = await readRaw(source, recognised.layout);
  return assemble({
    fileId,
    frameId: wholeFile(fileId),
    media: 'raw',
    bytes: source.size,
    exif: raw.exif,
    size: raw.size,
    preview: raw.preview,
    notes: raw.notes,
  });
};

interface Parts {
  readonly fileId: FileId;
  readonly frameId: FileMetadata['frameId'];
  readonly media: FileMetadata['media'];
  readonly bytes: number;
  readonly exif: ExifReading['fields'];
  readonly size: { readonly widthPx: number; readonly heightPx: number } | null;
  readonly preview: EmbeddedPicture | null;
  readonly notes: readonly string[];
}

const assemble = ({ exif, size, preview, ...rest }: Parts): FileMetadata => ({
  v: METADATA_VERSION,
  ...rest,
  ...exif,
  ...(size === null ? {} : upright(size, exif.orientation)),
  ...(preview === null ? {} : { preview: { ...preview, ...upright(preview, exif.orientation) } }),
});

/** Orientations 5–8 turn the picture on its side (Exif 2.32, tag 0112). */
const upright = <Size extends { readonly widthPx: number; readonly heightPx: number }>(size: Size, orientation = 1) =>
  orientation >= 5
    ? { widthPx: size.heightPx, heightPx: size.widthPx }
    : { widthPx: size.widthPx, heightPx: size.heightPx };

const nothingToRead = (
  fileId: FileId,
  { media }: Recognised,
  bytes: number,
  notes: readonly string[],
): FileMetadata => ({
  v: METADATA_VERSION,
  fileId,
  frameId: wholeFile(fileId),
  media,
  bytes,
  ...NOTHING_RECORDED,
  captured: { kind: 'absent', reason: media === 'jpeg' || media === 'raw' ? 'unreadable' : 'not-a-picture' },
  notes,
});
