/**
 * Cameras set to the wider colours write JPEGs without a profile and say so by two letters and a digit: `R03` in the
 * interoperability directory (DCF 2.0, 5.2.2, optional colour space; Exif tag A005, index 0001). Decoders that look for
 * a profile take them for sRGB, and every picture comes out pale. Here such a file is given the profile it means.
 */
import type { JpegHeader } from '../../metadata/jpegHeader.js';
import { bufferSource, offsetSource } from '../../metadata/source.js';
import { openTiff, readDirectory, type TiffBlock } from '../../metadata/tiff.js';
import { profileSegment } from '../segments.js';
import { matrixProfile } from './matrixProfile.js';

/** Adobe RGB (1998) Color Image Encoding, version 2005-05, 4.3.1.2: gamma, and annex A's colorants adapted to D50. */
const ADOBE_RGB = {
  name: 'Colours of DCF option',
  gamma: 563 / 256,
  red: [0.60974, 0.31111, 0.01947],
  green: [0.20528, 0.62567, 0.06087],
  blue: [0.14919, 0.06322, 0.74457],
} as const;

/** The profile that is meant and missing, as a segment; null where nothing is missing. @param head up to the first scan */
export async function missingProfile(head: Buffer, header: JpegHeader): Promise<Buffer | null> {
  if (header.exifAt === null || hasProfile(head, header.endsAt)) return null;
  const block = await openTiff(offsetSource(bufferSource(head), header.exifAt));
  return block !== null && (await saysOptional(block)) ? profileSegment(matrixProfile(ADOBE_RGB)) : null;
}

const hasProfile = (jpeg: Buffer, headerEnds: number): boolean =>
  jpeg.subarray(0, headerEnds).includes('ICC_PROFILE\0', 0, 'latin1');

async function saysOptional(block: TiffBlock): Promise<boolean> {
  const first = await readDirectory(block, block.firstDirectory);
  const exif = await readDirectory(block, first?.numbers(0x8769)[0] ?? 0);
  const interoperability = await readDirectory(block, exif?.numbers(0xa005)[0] ?? 0);
  const place = interoperability?.place(0x0001);
  if (!place) return false;
  return (await block.source.read(place.offset, 3)).toString('latin1') === 'R03';
}
