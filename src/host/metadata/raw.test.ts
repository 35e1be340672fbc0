import { beforeAll, describe, expect, it } from 'vitest';
import { cameraJpeg, dngFile, HALVARD } from '../../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../../test/fixtures/metadata/pictures.js';
import { readRaw } from './raw.js';
import { bufferSource } from './source.js';

let preview: Buffer;

beforeAll(async () => {
  preview = await texturedJpeg(300, 200);
});

describe('a raw file', () => {
  it.each(['II', 'MM'] as const)(
    'built like a TIFF (%s) gives time, body, full size and its preview',
    async (order) => {
      const settings = { ...HALVARD, orientation: 8 };
      const raw = await readRaw(bufferSource(dngFile(preview, [300, 200], { order, settings, widthPx: 90 })), 'tiff');
      expect(raw).toMatchObject({
        exif: {
          captured: { kind: 'recorded', text: '2026:05:30 14:23:07', subSec: '45' },
          body: { make: 'Halvard Optical', model: 'HX-7', serial: '0040117' },
          orientation: 8,
        },
        size: { widthPx: 90, heightPx: 48 },
        preview: { widthPx: 300, heightPx: 200 },
        notes: [],
      });
    },
  );

  it('whose maker writes another number for the TIFF’s 42 is read all the same', async () => {
    const raw = await readRaw(bufferSource(dngFile(preview, [300, 200], { magic: 0x55 })), 'tiff');
    expect(raw.exif.captured).toMatchObject({ text: '2026:05:30 14:23:07' });
  });

  it('that keeps a whole JPEG behind a header of its own is read through that JPEG', async () => {
    const jpeg = cameraJpeg(preview);
    const header = Buffer.alloc(160);
    header.write('FUJIFILMCCD-RAW ', 'latin1');
    header.writeUInt32BE(160, 84);
    header.writeUInt32BE(jpeg.length, 88);
    const raw = await readRaw(bufferSource(Buffer.concat([header, jpeg, Buffer.alloc(500)])), 'raf');
    expect(raw).toMatchObject({ preview: { offset: 160, bytes: jpeg.length, widthPx: 300 }, size: { widthPx: 300 } });
    expect(raw.exif.captured).toMatchObject({ text: '2026:05:30 14:23:07' });
  });

  it('MS7: of a kind that cannot be read says what to do', async () => {
    const raw = await readRaw(bufferSource(Buffer.from('....ftypcrx ', 'latin1')), 'none');
    expect(raw.exif.captured).toEqual({ kind: 'absent', reason: 'unreadable' });
    expect(raw.notes).toEqual([expect.stringMatching(/Let the camera write JPEGs beside it/)]);
  });
});
