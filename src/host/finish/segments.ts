/**
 * What is put into a finished JPEG beside the words that libvips writes: IIM fields as APP13, a Photoshop image
 * resource 0x0404 (IIM 4.2; mapping in core), and the sRGB profile as APP2 (ICC.1:2010, annex B.4). To let libvips
 * attach the profile costs it a conversion from sRGB to sRGB.
 */
import sharp from 'sharp';
import type { IimField } from '../../core/finish/index.js';

const RESOURCE_IPTC = 0x0404;
const APP0 = 0xe0;
const APP2 = 0xe2;
const APP13 = 0xed;
const APP15 = 0xef;

/** Puts segments behind the JPEG's other application segments. Everything else stays byte for byte. */
export function withSegments(jpeg: Buffer, segments: readonly Buffer[]): Buffer {
  const at = endOfApplicationSegments(jpeg);
  return Buffer.concat([jpeg.subarray(0, at), ...segments, jpeg.subarray(at)]);
}

/** Profiles are far below the 64 KB of one segment. */
export const profileSegment = (profile: Buffer): Buffer =>
  segment(APP2, Buffer.concat([Buffer.from('ICC_PROFILE\0\x01\x01', 'latin1'), profile]));

let srgb: Promise<Buffer> | undefined;

/** The profile that libvips carries for sRGB. */
export const srgbProfile = (): Promise<Buffer> => {
  srgb ??= sharp({ create: { width: 1, height: 1, channels: 3, background: '#000' } })
    .withIccProfile('srgb')
    .jpeg()
    .toBuffer()
    .then((jpeg) => sharp(jpeg).metadata())
    .then(({ icc }) => icc!);
  return srgb;
};

function endOfApplicationSegments(jpeg: Buffer): number {
  let at = 2;
  while (jpeg[at] === 0xff && jpeg[at + 1]! >= APP0 && jpeg[at + 1]! <= APP15) at += 2 + jpeg.readUInt16BE(at + 2);
  return at;
}

export function iimSegment(fields: readonly IimField[]): Buffer {
  const data = Buffer.concat(fields.map(fieldBytes));
  const header = Buffer.alloc(12);
  header.write('8BIM', 0, 'latin1');
  header.writeUInt16BE(RESOURCE_IPTC, 4);
  header.writeUInt32BE(data.length, 8);
  const padding = Buffer.alloc(data.length % 2);
  return segment(APP13, Buffer.concat([Buffer.from('Photoshop 3.0\0', 'latin1'), header, data, padding]));
}

function segment(marker: number, body: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}

function fieldBytes({ record, dataset, text, maxBytes }: IimField): Buffer {
  const value = cutUtf8(text, maxBytes);
  const head = Buffer.from([0x1c, record, dataset, 0, 0]);
  head.writeUInt16BE(value.length, 3);
  return Buffer.concat([head, value]);
}

/** At most `maxBytes`, without cutting a character in two. */
function cutUtf8(text: string, maxBytes: number): Buffer {
  let whole = '';
  for (const character of text) {
    if (Buffer.byteLength(whole + character) > maxBytes) break;
    whole += character;
  }
  return Buffer.from(whole);
}
