import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPatches } from '../../../../test/fixtures/finish/colourFiles.js';
import { rawOfPatches } from '../../../../test/fixtures/finish/rawOfPatches.js';
import { dngFile } from '../../../../test/fixtures/metadata/cameraFiles.js';
import { type PictureSource, PLAIN_LOOK, planFinal, planProof } from '../../../core/finish/index.js';
import type { FrameId } from '../../../core/ids.js';
import { labOfRgb } from '../../../core/numeric/colour.js';
import { ciede2000 } from '../../../core/numeric/colourDifference.js';
import { makePicture } from '../makePicture.js';
import { developRaw } from './developRaw.js';
import { MADE_UP_WORDS } from './testing.js';

const COLOURS = [
  [180, 70, 60],
  [70, 140, 80],
  [60, 80, 160],
  [118, 118, 118],
  [240, 240, 240],
  [40, 40, 40],
] as const;
const PATCH = 48;

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-develop-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function made(
  name: string,
  bytes: Buffer,
  source: PictureSource = { kind: 'raw' },
  longEdgePx: number | null = null,
) {
  const original = join(folder, name);
  await writeFile(original, bytes);
  const to = join(folder, `${name}.jpg`);
  const plan =
    longEdgePx === null
      ? planFinal(MADE_UP_WORDS, PLAIN_LOOK, null, source)
      : planProof(MADE_UP_WORDS, { subjectBoxes: [], longEdgePx }, source);
  return { to, outcome: await makePicture({ frameId: '0'.repeat(32) as FrameId, original, plan, to }) };
}

const difference = (a: readonly number[], b: readonly number[]): number =>
  ciede2000(labOfRgb(a[0]!, a[1]!, a[2]!), labOfRgb(b[0]!, b[1]!, b[2]!));

describe('a raw developed', () => {
  it('FI9: shows the colours the sensor saw', async () => {
    const { to, outcome } = await made('patches.dng', rawOfPatches(COLOURS, PATCH));
    expect(outcome).toMatchObject({ kind: 'made', madeFrom: 'raw', note: null, heightPx: PATCH });
    const received = await readPatches(to, COLOURS.length);
    for (const [index, colour] of COLOURS.entries())
      expect(difference(received[index]!, colour), `${received[index]} against ${colour}`).toBeLessThan(2);
  });

  it('FI9: is as dcraw’s successor develops it, and upright', async () => {
    const path = join(folder, 'turned.dng');
    await writeFile(path, rawOfPatches(COLOURS, PATCH, { orientation: 6 }));
    const { data, size } = await developRaw(await readFile(path));
    expect(size).toMatchObject({ widthPx: PATCH });
    const asked = askLibRaw(path);
    if (asked === null) return;
    const [expected, received] = [asked, data];
    expect(received.length).toBe(expected.length);
    let sum = 0;
    for (const [index, value] of expected.entries()) sum += Math.abs(value - received[index]!);
    expect(sum / expected.length).toBeLessThan(1);
  });

  it('FI9: is the same every time, and bit for bit', async () => {
    const bytes = rawOfPatches(COLOURS, PATCH);
    expect(Buffer.from((await developRaw(bytes)).data).equals(Buffer.from((await developRaw(bytes)).data))).toBe(true);
  });

  it('FI9: of a kind that cannot be developed gives the JPEG inside, and says so', async () => {
    const inside = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#a04030' } })
      .jpeg()
      .toBuffer();
    const whole = dngFile(inside, [300, 200], { settings: { orientation: 8 } });
    // Its directories stand at the end; the sensor's data is named by another number of the standard's.
    const broken = Buffer.from(whole);
    const at = broken.indexOf(Buffer.from([0x06, 0x01, 0x03, 0x00, 0x01, 0x00, 0x00, 0x00, 0x23, 0x80]));
    expect(at).toBeGreaterThan(0);
    broken.writeUInt16LE(0x9999, at + 8);
    const { to, outcome } = await made('kind.dng', broken);
    expect(outcome).toMatchObject({ kind: 'made', madeFrom: 'jpeg-in-raw', widthPx: 200, heightPx: 300 });
    expect(outcome.kind === 'made' && outcome.note).toMatch(
      /^Expected to develop kind\.dng, but .*; the JPEG inside it was used, 200 × 300\.$/,
    );
    expect(difference((await readPatches(to, 1))[0]!, [160, 64, 48])).toBeLessThan(2);
  });

  it('FI9: a proof is made from the JPEG inside where that is large enough', async () => {
    const inside = await sharp({ create: { width: 1500, height: 1000, channels: 3, background: '#305080' } })
      .jpeg()
      .toBuffer();
    const { outcome } = await made('proof.dng', dngFile(inside, [1500, 1000]), { kind: 'camera' }, 1400);
    expect(outcome).toMatchObject({ kind: 'made', madeFrom: 'jpeg-in-raw', note: null });
  });

  it('FI8: cut short it costs itself, with a sentence', async () => {
    const whole = rawOfPatches(COLOURS, PATCH);
    const { outcome } = await made('short.dng', whole.subarray(0, 2000));
    expect(outcome).toMatchObject({
      kind: 'failed',
      sentence: expect.stringMatching(/^Expected a whole picture in \/.*\/short\.dng, /),
    });
  });
});

/** The same settings through Debian's LibRaw, as bytes; null, said loudly, where it is not installed. */
function askLibRaw(path: string): Buffer | null {
  try {
    const options = ['-w', '-W', '-c', '0', '-o', '1', '-q', '3', '-g', '2.4', '12.92', '-Z', '-'];
    const ppm = execFileSync('dcraw_emu', [...options, path], { stdio: ['ignore', 'pipe', 'ignore'] });
    // P6, width, height and 255, each ended by a line.
    const head = /^P6\n[\d\s]*?\n255\n/.exec(ppm.toString('latin1', 0, 200))![0];
    return ppm.subarray(head.length);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    if (process.env.REQUIRE_ORACLES === '1') throw new Error('Expected dcraw_emu for this check; install libraw-bin.');
    console.warn('SKIPPED: dcraw_emu is not installed (Debian: libraw-bin); 1 check against it was not made.');
    return null;
  }
}
