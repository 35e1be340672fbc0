/** Says in a JPEG which way up it is. */

/** An Exif segment of one tag, 0112 (TIFF 6.0, Orientation), before every other: readers take the first. */
export function withOrientation(jpeg: Buffer, orientation: number): Buffer {
  const exif = Buffer.from(
    'ffe1 0022 457869660000 4d4d002a00000008 0001 0112 0003 00000001 0000 0000 00000000'.replaceAll(' ', ''),
    'hex',
  );
  exif.writeUInt16BE(orientation, 28);
  return Buffer.concat([jpeg.subarray(0, 2), exif, jpeg.subarray(2)]);
}
