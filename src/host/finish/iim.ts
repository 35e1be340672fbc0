/** IIM fields as the APP13 segment of a JPEG: a Photoshop image resource 0x0404 (IIM 4.2; mapping in core). */
import type { IimField } from '../../core/finish/index.js';

const RESOURCE_IPTC = 0x0404;
const APP0 = 0xe0;
const APP15 = 0xef;

/** Puts the fields behind the JPEG's other application segments. Everything else stays byte for byte. */
export function withIim(jpeg: Buffer, fields: readonly IimField[]): Buffer {
  const at = endOfApplicationSegments(jpeg);
  return Buffer.concat([jpeg.subarray(0, at), segmentOf(fields), jpeg.subarray(at)]);
}

function endOfApplicationSegments(jpeg: Buffer): number {
  let at = 2;
  while (jpeg[at] === 0xff && jpeg[at + 1]! >= APP0 && jpeg[at + 1]! <= APP15) at += 2 + jpeg.readUInt16BE(at + 2);
  return at;
}

function segmentOf(fields: readonly IimField[]): Buffer {
  const data = Buffer.concat(fields.map(fieldBytes));
  const header = Buffer.alloc(12);
  header.write('8BIM', 0, 'latin1');
  header.writeUInt16BE(RESOURCE_IPTC, 4);
  header.writeUInt32BE(data.length, 8);
  const padding = Buffer.alloc(data.length % 2);
  const body = Buffer.concat([Buffer.from('Photoshop 3.0\0', 'latin1'), header, data, padding]);
  const marker = Buffer.from([0xff, 0xed, 0, 0]);
  marker.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([marker, body]);
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
