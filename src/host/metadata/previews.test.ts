import { beforeAll, describe, expect, it } from 'vitest';
import { cameraJpeg, dngFile, HALVARD, mpfJpeg } from '../../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../../test/fixtures/metadata/pictures.js';
import { type JpegHeader, readJpegHeader } from './jpegHeader.js';
import { type Previews, previewsOfJpeg, previewsOfTiff } from './previews.js';
import { bufferSource } from './source.js';
import { openTiff, type TiffBlock } from './tiff.js';

let picture: Buffer;
let preview: Buffer;
let thumbnail: Buffer;

beforeAll(async () => {
  picture = await texturedJpeg(600, 400);
  preview = await texturedJpeg(300, 200);
  thumbnail = await texturedJpeg(48, 32);
});

const previewsOf = async (file: Buffer): Promise<Previews> => {
  const source = bufferSource(file);
  return previewsOfJpeg(source, (await readJpegHeader(source)) as JpegHeader);
};

const bytesOf = (file: Buffer, { best }: Previews) =>
  file.subarray(best?.offset, (best?.offset ?? 0) + (best?.bytes ?? 0));

describe('the preview inside a JPEG', () => {
  it('MS6: is the picture of the MPF index, byte for byte', async () => {
    const file = mpfJpeg(picture, preview);
    const found = await previewsOf(file);
    expect(found).toMatchObject({ best: { widthPx: 300, heightPx: 200 }, notes: [] });
    expect(bytesOf(file, found).equals(preview)).toBe(true);
  });

  it.each([0x010001, 0x010002, 0x010003, 0x010004])('MS6: type %i is a preview', async (type) => {
    expect((await previewsOf(mpfJpeg(picture, preview, { type }))).best).not.toBeNull();
  });

  it.each([0x020001, 0x020002, 0x020003, 0x040000, 0x050000, 0])(
    'MS6: type %i is none (panorama, disparity, angle, original, gain map, undefined)',
    async (type) => {
      expect(await previewsOf(mpfJpeg(picture, preview, { type }))).toEqual({ best: null, notes: [] });
    },
  );

  it('MS6: the larger of preview and thumbnail is taken, and the thumbnail where there is nothing else', async () => {
    const both = await previewsOf(mpfJpeg(picture, preview, { settings: { ...HALVARD, thumbnail } }));
    expect(both.best?.widthPx).toBe(300);
    const file = cameraJpeg(picture, { ...HALVARD, thumbnail });
    const one = await previewsOf(file);
    expect(one.best?.widthPx).toBe(48);
    expect(bytesOf(file, one).equals(thumbnail)).toBe(true);
  });

  it('MS6: an entry that points past the end of the file gives no preview, and a sentence', async () => {
    const found = await previewsOf(mpfJpeg(picture, preview, { bytes: 5_945_405 }));
    expect(found.best).toBeNull();
    expect(found.notes).toEqual([expect.stringMatching(/Expected a preview.*The whole picture is used/)]);
  });

  it('MS6: an offset past the end gives no preview either', async () => {
    expect((await previewsOf(mpfJpeg(picture, preview, { shift: 0x7fffffff }))).best).toBeNull();
  });

  it('MS6: bytes put in between the index and the preview break it; bytes before the index do not', async () => {
    const file = mpfJpeg(picture, preview);
    const index = file.indexOf('MPF\0', 0, 'latin1');
    const comment = Buffer.from([0xff, 0xfe, 0, 6, 0x54, 0x57, 0x21, 0x21]);
    const behind = file.indexOf(Uint8Array.of(0xff, 0xdb), index);
    const broken = await previewsOf(Buffer.concat([file.subarray(0, behind), comment, file.subarray(behind)]));
    expect(broken.best).toBeNull();
    expect(broken.notes).toHaveLength(1);
    const whole = await previewsOf(Buffer.concat([file.subarray(0, 2), comment, file.subarray(2)]));
    expect(whole).toMatchObject({ best: { widthPx: 300 }, notes: [] });
  });

  it('MS6: a file cut short behind its main picture has lost its preview and says so', async () => {
    const file = mpfJpeg(picture, preview);
    const found = await previewsOf(file.subarray(0, file.length - preview.length + 100));
    expect(found.best).toBeNull();
    expect(found.notes[0]).toMatch(/cut short/);
  });

  it('MS6: a thumbnail with black bars, of another shape than the frame, is not used', async () => {
    const barred = await texturedJpeg(160, 120);
    expect((await previewsOf(cameraJpeg(picture, { ...HALVARD, thumbnail: barred }))).best).toBeNull();
  });

  it('MS6: a damaged index is a sentence, not an error', async () => {
    const file = mpfJpeg(picture, preview);
    const index = file.indexOf('MPF\0', 0, 'latin1');
    file.writeUInt32LE(0xfffffff0, index + 8);
    expect(await previewsOf(file)).toEqual({ best: null, notes: [expect.stringMatching(/could not be read/)] });
  });
});

describe('the preview inside a raw', () => {
  it('MS6: is the JPEG of its directories; sensor data is never taken for one', async () => {
    const file = dngFile(preview, [300, 200]);
    const block = (await openTiff(bufferSource(file))) as TiffBlock;
    const best = await previewsOfTiff(block.source, block);
    expect(best).toMatchObject({ widthPx: 300, heightPx: 200, bytes: preview.length });
  });

  it('MS6: directories that point at each other for ever are walked once', async () => {
    const file = dngFile(preview, [300, 200]);
    const first = file.readUInt32LE(4);
    const entries = file.readUInt16LE(first);
    file.writeUInt32LE(first, first + 2 + entries * 12);
    const block = (await openTiff(bufferSource(file))) as TiffBlock;
    expect((await previewsOfTiff(block.source, block))?.widthPx).toBe(300);
  });
});
