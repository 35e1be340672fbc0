import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type DemoCard, layOutCards } from './cards.js';
import { digestOf, readBoxes, readTruth } from './day/truth.js';
import { keptFrame } from './frames.js';
import { changedFrames } from './make.js';
import { recordedPicture } from './recordedPicture.js';
import type { DemoTruth, TrueFrame } from './truthTypes.js';

const MOST_BYTES = 1_400_000;
/** For work that takes seconds on a machine that does nothing else. */
const PATIENCE_MS = 180_000;
const ms = (wall: string): number => Date.parse(`${wall}Z`);
const truth: DemoTruth = await readTruth();
const bikeFrames = truth.frames.filter((f) => f.role === 'bike');

describe('the invented day', () => {
  test('sessions follow one another without overlap, five of three groups', () => {
    expect(truth.sessions.map((s) => s.name)).toEqual(['N1', 'I1', 'F1', 'N2', 'I2']);
    truth.sessions.slice(1).forEach((s, i) => {
      expect(ms(s.start)).toBeGreaterThan(ms(truth.sessions[i]!.end));
    });
  });

  test('every frame lies inside its session and at a spot where its body stood', () => {
    for (const frame of truth.frames) {
      const session = truth.sessions.find((s) => s.name === frame.session)!;
      expect(ms(frame.wall)).toBeGreaterThanOrEqual(ms(session.start));
      expect(ms(frame.wall)).toBeLessThanOrEqual(ms(session.end));
      const stand = truth.stands.find(
        (s) => s.body === frame.body && s.from <= ms(frame.wall) && ms(frame.wall) <= s.to,
      );
      expect(stand?.spot).toBe(frame.spot);
    }
  });

  test('no bike comes back to a spot sooner than the fastest lap, save in one pass', () => {
    const fastest = truth.timetable.fastestLapMs!;
    let compared = 0;
    for (const rider of truth.riders) {
      for (const spot of truth.spots) {
        const passes = new Map<number, number>();
        for (const f of bikeFrames.filter((f) => f.spot === spot.id))
          for (const b of f.bikes) if (b.rider === rider.key) passes.set(b.pass, ms(f.wall));
        const times = [...passes.values()].sort((a, b) => a - b);
        times.slice(1).forEach((t, i) => {
          compared++;
          expect(t - times[i]!).toBeGreaterThanOrEqual(fastest);
        });
      }
    }
    expect(compared).toBeGreaterThan(30);
  });

  test('every rider is seen in each session of the group, and from two spots where it ran twice', () => {
    for (const rider of truth.riders) {
      const sessions = truth.sessions.filter((s, i) => s.group === rider.groups[i < 3 ? 0 : 1]);
      const own = bikeFrames.filter((f) => f.bikes.some((b) => b.rider === rider.key));
      for (const session of sessions) expect(own.some((f) => f.session === session.name)).toBe(true);
      expect(new Set(own.map((f) => f.session)).size).toBe(sessions.length);
      if (sessions.length > 1) expect(new Set(own.map((f) => f.spot)).size).toBeGreaterThanOrEqual(2);
    }
  });

  test('boxes lie in the picture', () => {
    for (const { box } of bikeFrames.flatMap((f) => f.bikes)) {
      expect(Math.min(...box)).toBeGreaterThanOrEqual(0);
      expect(box[0] + box[2]).toBeLessThanOrEqual(1.0001);
      expect(box[1] + box[3]).toBeLessThanOrEqual(1.0001);
    }
  });

  test("the day's code says the truth that the pictures were made by", async () => {
    const { truthSha256, boxes } = await readBoxes();
    expect(digestOf(truth)).toBe(truthSha256);
    expect(boxes).toHaveLength(truth.frames.length);
  });

  test('each path is one frame of its card', () => {
    const paths = truth.frames.map((f) => `${f.card}/${f.path}`);
    expect(new Set(paths).size).toBe(paths.length);
  });

  test('the oddities of a real day are there', () => {
    const pathsOf = (card: string): string[] => truth.frames.filter((f) => f.card === card).map((f) => f.path);
    const [a, b] = [pathsOf('morning-a'), pathsOf('morning-b')];
    expect(a.indexOf('DCIM/101HXSEV/HX7_0001.JPG')).toBe(a.indexOf('DCIM/100HXSEV/HX7_9999.JPG') + 1);
    expect(a.filter((p) => b.includes(p)).length).toBeGreaterThan(10);
    expect(truth.frames.filter((f) => f.role === 'divider')).toHaveLength(2 * truth.sessions.length - 1);
    expect(truth.frames.filter((f) => f.role === 'damaged')).toHaveLength(1);
    expect(truth.frames.filter((f) => f.raw !== undefined && f.taken?.orientation === 8)).toHaveLength(1);
    expect(truth.frames.filter((f) => f.bikes.length > 1).length).toBeGreaterThan(10);
    expect(truth.frames.filter((f) => f.blur === 'motion').length).toBeGreaterThan(5);
    expect(truth.frames.filter((f) => f.blur === 'defocus').length).toBeGreaterThan(5);
    expect(truth.clocks.map((c) => c.fastS)).toEqual([0, 3660]);
    expect(truth.riders.filter((r) => r.groups[0] !== r.groups[1])).toHaveLength(1);
    expect(truth.riders.filter((r) => r.fleet !== null)).toHaveLength(4);
    expect(truth.riders.filter((r) => r.number === null).length).toBeGreaterThan(truth.riders.length / 2);
    expect(truth.timetable.slots.some((s) => s.isSighting)).toBe(true);
  });

  test('one session was held for minutes, and what follows came late', () => {
    const held = bikeFrames
      .filter((f) => f.session === 'I1')
      .map((f) => ms(f.wall))
      .sort((p, q) => p - q);
    expect(Math.max(...held.slice(1).map((t, i) => t - held[i]!))).toBeGreaterThan(7 * 60_000);
    const planned = truth.timetable.slots.find((s) => s.name === 'F1')!.start;
    expect(ms(truth.sessions.find((s) => s.name === 'F1')!.start) - planned).toBe(7 * 60_000);
  });

  test('all pictures together stay under 1.4 MB', async () => {
    const sizes = await Promise.all(truth.frames.map(async (f) => (await keptFrame(f.picture!)).length));
    expect(sizes.length).toBeGreaterThan(200);
    expect(sizes.reduce((sum, n) => sum + n, 0)).toBeLessThan(MOST_BYTES);
  });

  test(
    'rendered again, frames are the same byte for byte, their boxes too',
    async () => {
      expect(await changedFrames(4)).toEqual([]);
    },
    PATIENCE_MS,
  );
});

test('a frame that was never made is asked for by its name', async () => {
  await expect(keptFrame('morning-a/hx7_4711.avif')).rejects.toThrow(
    /^Expected the frame "morning-a\/hx7_4711.avif" in .*frames.br but it is not there/,
  );
});

describe('the cards', () => {
  let folder: string;
  let cards: readonly DemoCard[];
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'demo-cards-'));
    cards = (await layOutCards(folder)).cards;
  }, PATIENCE_MS);
  afterAll(() => rm(folder, { recursive: true, force: true }));
  const fileOf = (frame: TrueFrame): string => join(folder, frame.card, frame.path);

  test(
    'laid out twice, the bytes and the times are the same',
    async () => {
      const digest = async (root: string): Promise<string> => {
        const hash = createHash('sha256');
        for (const entry of (await readdir(root, { recursive: true })).sort()) {
          const about = await stat(join(root, entry));
          if (about.isFile())
            hash
              .update(entry)
              .update(await readFile(join(root, entry)))
              .update(String(about.mtimeMs));
        }
        return hash.digest('hex');
      };
      const second = await mkdtemp(join(tmpdir(), 'demo-cards-'));
      await layOutCards(second);
      expect(cards).toHaveLength(4);
      expect(await digest(second)).toBe(await digest(folder));
      await rm(second, { recursive: true });
    },
    PATIENCE_MS,
  );

  test('the damaged file stops half-way and the others end as JPEGs do', async () => {
    for (const frame of truth.frames) {
      const bytes = await readFile(fileOf(frame));
      expect(bytes.readUInt16BE(0)).toBe(0xffd8);
      expect(bytes.readUInt16BE(bytes.length - 2) === 0xffd9).toBe(frame.role !== 'damaged');
    }
  });

  test('the raw picture is a TIFF whose preview is the JPEG beside it', async () => {
    const frame = truth.frames.find((f) => f.raw !== undefined)!;
    const raw = await readFile(join(folder, frame.card, frame.raw!));
    expect(raw.subarray(0, 4)).toEqual(Buffer.from([0x49, 0x49, 0x2a, 0]));
    const preview = await recordedPicture(frame);
    const at = raw.indexOf(preview);
    expect(at).toBeGreaterThan(0);
    expect((await sharp(raw.subarray(at, at + preview.length)).metadata()).width).toBe(600);
  });

  test(
    'exiftool reads in every file what truth says the camera wrote',
    () => {
      const exif = exiftool(folder);
      if (!exif) return;
      expect(exif.size).toBe(truth.frames.length + 1);
      for (const frame of truth.frames) {
        const read = exif.get(fileOf(frame))!;
        const fastMs = truth.clocks.find((c) => c.body === frame.body)!.fastS * 1000;
        const clock = new Date(ms(frame.wall) + fastMs).toISOString();
        expect(`${String(read.DateTimeOriginal)}.${String(read.SubSecTimeOriginal)}0`.replaceAll(':', '')).toBe(
          clock.slice(0, 23).replaceAll(/[-:]/g, '').replace('T', ' '),
        );
        expect(`${String(read.Make)}|${String(read.Model)}|${String(read.SerialNumber)}`).toBe(frame.body);
        expect(read.FNumber).toBeCloseTo(frame.taken!.fNumber, 6);
        expect(read.ISO).toBe(frame.taken!.iso);
        expect(read.FocalLength).toBe(frame.taken!.focalLengthMm);
        expect(read.ExposureTime).toBeCloseTo(frame.taken!.shutterS, 6);
        expect(read.Orientation).toBe(frame.taken!.orientation);
        expect(read.Warning ?? '').toBe(frame.role === 'damaged' ? (read.Warning ?? '') : '');
      }
    },
    PATIENCE_MS,
  );

  test(
    'exiftool opens the DNG: mosaic, preview, the same exposure',
    () => {
      const exif = exiftool(folder);
      if (!exif) return;
      const frame = truth.frames.find((f) => f.raw !== undefined)!;
      const raw = exif.get(join(folder, frame.card, frame.raw!))!;
      expect(raw).toMatchObject({
        FileType: 'DNG',
        DNGVersion: '1 4 0 0',
        CFAPattern2: '0 1 1 2',
        Orientation: 8,
        SerialNumber: 70031044,
      });
      expect(raw.Warning).toBeUndefined();
    },
    PATIENCE_MS,
  );
});

let read: Map<string, Record<string, unknown>> | undefined;
/** Every picture's metadata by exiftool, or undefined, said aloud, where it is not installed. */
function exiftool(folder: string): Map<string, Record<string, unknown>> | undefined {
  if (read) return read;
  const run = spawnSync('exiftool', ['-n', '-j', '-r', '-ext', 'jpg', '-ext', 'dng', folder], {
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  if (run.error) {
    if (process.env.REQUIRE_ORACLES === '1') throw run.error;
    console.warn(`SKIPPED: exiftool is not installed; the Exif of ${truth.frames.length} frames was not checked.`);
    return undefined;
  }
  const rows = JSON.parse(run.stdout) as (Record<string, unknown> & { SourceFile: string })[];
  read = new Map(rows.map((row) => [row.SourceFile, row]));
  return read;
}
