/** The largest picture inside a file that shows the same frame as the main one. */
import { type JpegHeader, readJpegHeader } from './jpegHeader.js';
import { readMpfIndex } from './mpf.js';
import { type ByteSource, offsetSource } from './source.js';
import { type Directory, openTiff, readDirectory, type TiffBlock } from './tiff.js';

/** As coded, not upright; `offset` from the beginning of the file. */
export interface EmbeddedPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly offset: number;
  readonly bytes: number;
}

export interface Previews {
  readonly best: EmbeddedPicture | null;
  readonly notes: readonly string[];
}

interface Place {
  readonly offset: number;
  readonly bytes: number;
}

const JPEG_OFFSET = 0x0201;
const JPEG_BYTES = 0x0202;
/** Thumbnails of 160×120 with black bars do not show the frame as it is; boxes would be wrong. */
const ASPECT_TOLERANCE = 0.02;

/** Previews of a JPEG: the pictures of its MPF index, and the thumbnail of its second Exif directory. */
export const previewsOfJpeg = async (source: ByteSource, header: JpegHeader): Promise<Previews> => {
  const notes: string[] = [];
  const places: Place[] = [];
  if (header.mpfAt !== null) {
    const index = await readMpfIndex(source, header.mpfAt);
    if (index.kind === 'unreadable')
      notes.push('The list of previews in this file could not be read; the whole picture is used.');
    else places.push(...index.pictures.filter((picture) => picture.isPreview && picture.offset > 0));
  }
  const listed = places.length;
  if (header.exifAt !== null) places.push(...(await thumbnailPlace(source, header.exifAt)));
  const found = await Promise.all(places.map((place) => pictureAt(source, place)));
  const lost = found.slice(0, listed).filter((picture) => picture === null).length;
  if (lost > 0) {
    notes.push(
      `Expected a preview where the file says one is, but there is none: the file was cut short or changed after the camera wrote it (${source.size} bytes). The whole picture is used.`,
    );
  }
  return { best: largest(found, header.size), notes };
};

/** Previews of a TIFF-based raw: every JPEG that its directories and their sub-directories point to. */
export const previewsOfTiff = async (source: ByteSource, block: TiffBlock): Promise<EmbeddedPicture | null> => {
  const places: Place[] = [];
  for await (const directory of walkDirectories(block)) places.push(...jpegPlaces(directory));
  return largest(await Promise.all(places.map((place) => pictureAt(source, place))), null);
};

const MOST_DIRECTORIES = 32;

/** All directories, each once, however they point at each other. */
export async function* walkDirectories(block: TiffBlock): AsyncGenerator<Directory> {
  const waiting = [block.firstDirectory];
  const seen = new Set<number>();
  while (waiting.length > 0 && seen.size < MOST_DIRECTORIES) {
    const offset = waiting.shift() as number;
    if (offset === 0 || seen.has(offset)) continue;
    seen.add(offset);
    const directory = await readDirectory(block, offset);
    if (directory === null) continue;
    yield directory;
    waiting.push(...directory.numbers(0x014a), directory.next);
  }
}

/** Old-style JPEG pointers, or one strip of JPEG data (compression 6 or 7). Coded raws (lossless JPEG) are told apart by their size. */
const jpegPlaces = (directory: Directory): Place[] => {
  const places: Place[] = [];
  const pointed = placeOf(directory, JPEG_OFFSET, JPEG_BYTES);
  if (pointed !== null) places.push(pointed);
  const [compression = 0] = directory.numbers(0x0103);
  // Photometric 32803 and 34892 are sensor data, not pictures (DNG specification 1.4).
  const [photometric = 0] = directory.numbers(0x0106);
  const strip = placeOf(directory, 0x0111, 0x0117);
  if ((compression === 6 || compression === 7) && photometric < 32000 && strip !== null) places.push(strip);
  return places;
};

const placeOf = (directory: Directory, offsetTag: number, bytesTag: number): Place | null => {
  const offsets = directory.numbers(offsetTag);
  const lengths = directory.numbers(bytesTag);
  if (offsets.length !== 1 || lengths.length !== 1) return null;
  return { offset: offsets[0] as number, bytes: lengths[0] as number };
};

const thumbnailPlace = async (source: ByteSource, exifAt: number): Promise<Place[]> => {
  const block = await openTiff(offsetSource(source, exifAt));
  const first = block === null ? null : await readDirectory(block, block.firstDirectory);
  const second = block === null || first === null ? null : await readDirectory(block, first.next);
  const place = second === null ? null : placeOf(second, JPEG_OFFSET, JPEG_BYTES);
  return place === null ? [] : [{ offset: exifAt + place.offset, bytes: place.bytes }];
};

/** Null where the place lies past the end, or no picture begins there. */
const pictureAt = async (source: ByteSource, place: Place): Promise<EmbeddedPicture | null> => {
  if (place.bytes < 4 || place.offset + place.bytes > source.size) return null;
  const header = await readJpegHeader(source, place.offset);
  return header === null || header.size === null ? null : { ...header.size, offset: place.offset, bytes: place.bytes };
};

const largest = (pictures: readonly (EmbeddedPicture | null)[], main: JpegHeader['size']): EmbeddedPicture | null => {
  let best: EmbeddedPicture | null = null;
  for (const picture of pictures) {
    if (picture === null || (main !== null && !showsTheSame(picture, main))) continue;
    if (best === null || picture.widthPx * picture.heightPx > best.widthPx * best.heightPx) best = picture;
  }
  return best;
};

const showsTheSame = (picture: EmbeddedPicture, main: NonNullable<JpegHeader['size']>): boolean => {
  const ratio = (picture.widthPx * main.heightPx) / (picture.heightPx * main.widthPx);
  return Math.abs(ratio - 1) <= ASPECT_TOLERANCE && picture.widthPx <= main.widthPx;
};
