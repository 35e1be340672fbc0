import { describe, expect, it } from 'vitest';
import type { RgbImage } from '../measure/index.js';
import type { Box } from '../measure/types.js';
import { seededRandom } from '../numeric/random.js';
import type { EpochMs } from '../units.js';
import { type Judged, judgeFrame, nearDuplicates, orderByWorth, tellBlurFrom, tellWay } from './index.js';

const SIDE = 240;
/** Of the drawn subject, 0–1. */
const BOX: Box = [0.2, 0.2, 0.6, 0.6];

/** Patches of random grey, every pixel the mean of what a box of `acrossX` × `acrossY` pixels around it covers. */
function patches(acrossX: number, acrossY: number): RgbImage {
  const random = seededRandom(5);
  const cells = Array.from({ length: 40 * 40 }, () => random.integer(30, 200));
  const at = (x: number, y: number) => cells[(Math.floor(y / 10) % 40) * 40 + (Math.floor(x / 10) % 40)]!;
  const data = new Uint8Array(3 * SIDE * SIDE);
  for (let y = 0; y < SIDE; y += 1)
    for (let x = 0; x < SIDE; x += 1) {
      let sum = 0;
      for (let j = 0; j < acrossY; j += 1) for (let i = 0; i < acrossX; i += 1) sum += at(x + i + 5, y + j + 5);
      data.fill(sum / (acrossX * acrossY) + random.normal(), 3 * (y * SIDE + x), 3 * (y * SIDE + x) + 3);
    }
  return { data, width: SIDE, height: SIDE };
}

const withRect = (image: RgbImage, [left, top, right, bottom]: readonly number[], value: number): RgbImage => {
  const data = image.data.slice();
  for (let y = top!; y < bottom!; y += 1) data.fill(value, 3 * (y * SIDE + left!), 3 * (y * SIDE + right!));
  return { ...image, data };
};

const judged = (picture: RgbImage, box: Box = BOX, others: readonly Box[] = []): Judged =>
  judgeFrame({
    crop: { picture, at: [0, 0, 1, 1] },
    subject: { box, what: 'motorcycle' },
    burst: [],
    others: others.map((other) => ({ box: other, what: 'motorcycle' as const })),
  });

const finenessOf = ({ focus }: Judged) => {
  if (focus.kind !== 'focus') throw new Error(focus.reason);
  return focus.fineness;
};

describe('a judged frame', () => {
  const sharp = judged(patches(1, 1));

  it('JU1: is less fine the more it is blurred, whatever its contrast', () => {
    const soft = [2, 3, 5].map((size) => finenessOf(judged(patches(size, size))).overall);
    const fine = [finenessOf(sharp).overall, ...soft];
    expect(fine).toEqual([...fine].sort((a, b) => b - a));
    const plain = patches(1, 1);
    const faint = judged({ ...plain, data: plain.data.map((value) => 60 + value / 2) });
    expect(finenessOf(faint).overall / finenessOf(sharp).overall).toBeCloseTo(1, 1);
  });

  it('JU1: without structure has no sharpness, and says so', () => {
    expect(judged(withRect(patches(1, 1), [0, 0, SIDE, SIDE], 90)).focus).toEqual({
      kind: 'absent',
      reason: 'no-structure',
    });
  });

  it.each([
    [6, 1, { kind: 'moved', alongDeg: 0 }],
    [1, 6, { kind: 'moved', alongDeg: 90 }],
    [4, 4, { kind: 'missed-focus' }],
    [1, 1, { kind: 'as-sharp' }],
  ] as const)('JU2, JU3: blurred by %i × %i px is told by direction', (acrossX, acrossY, expected) => {
    expect(tellBlurFrom(finenessOf(judged(patches(acrossX, acrossY))), finenessOf(sharp))).toEqual(expected);
  });

  it('JU4: is cut where it lies on the edge, and whole with its margin else', () => {
    expect(sharp.edge).toEqual({ kind: 'whole', margin: expect.closeTo(0.2, 6) });
    expect(judged(patches(1, 1), [0, 0.2, 0.6, 0.6]).edge).toMatchObject({
      kind: 'cut',
      where: [0, expect.any(Number), expect.any(Number), expect.any(Number)],
    });
  });

  it('JU5: has a post across it where one even colour stands from below it up through it', () => {
    expect(sharp.inFront).toEqual([]);
    const [post] = judged(withRect(patches(1, 1), [110, 0, 122, SIDE], 140)).inFront;
    expect(post).toMatchObject({ what: 'post or person' });
    expect(post!.where[0]).toBeGreaterThan(105 / SIDE);
    expect(post!.where[0] + post!.where[2]).toBeLessThan(127 / SIDE);
    // Half as high as the bike, it stands behind or is part of it.
    expect(judged(withRect(patches(1, 1), [110, 130, 122, SIDE], 140)).inFront).toEqual([]);
  });

  it('JU5: has a nearer bike across it, and none that is farther or beside it', () => {
    const across: Box = [0.6, 0.3, 0.3, 0.55];
    expect(judged(patches(1, 1), BOX, [across]).inFront).toMatchObject([{ what: 'bike' }]);
    expect(judged(patches(1, 1), BOX, [[0.6, 0.1, 0.3, 0.4]]).inFront).toEqual([]);
    expect(judged(patches(1, 1), BOX, [[0.85, 0.3, 0.1, 0.55]]).inFront).toEqual([]);
  });

  it('JU6: says how much of it is all but burnt, and where', () => {
    expect(sharp.bright).toEqual({ share: 0 });
    const { share, where } = judged(withRect(patches(1, 1), [60, 60, 90, 90], 252)).bright;
    expect(share).toBeCloseTo((30 * 30) / (144 * 144), 2);
    expect(where![0]).toBeCloseTo(60 / SIDE, 1);
  });

  it('JU9: stands in one order with the others, with the shares as reasons', () => {
    const frames = [judged(patches(3, 3)), sharp, judged(withRect(patches(1, 1), [110, 0, 122, SIDE], 140)), sharp];
    const order = orderByWorth(frames);
    expect(order.map(({ index }) => index)).toEqual([1, 3, 2, 0]);
    expect(order[0]!.left).toMatchObject({ focus: 1, edge: 1, inFront: 1 });
    expect(order[3]!.blur).toEqual({ kind: 'missed-focus' });
    for (const { worth } of order) expect(worth).toBeGreaterThan(0);
  });
});

describe('frames of a pass', () => {
  const at = (ms: number, height: number, isCut = false) => ({
    at: (1_780_000_000_000 + ms) as EpochMs,
    box: [0.3, 0.3, 0.4, height] as const,
    isCut,
  });

  it('JU7: say whether it comes or goes from three whole frames on', () => {
    expect(tellWay([at(0, 0.2), at(100, 0.21), at(200, 0.22)])).toMatchObject({ kind: 'comes', frames: 3 });
    expect(tellWay([at(0, 0.3), at(100, 0.28), at(200, 0.26)])).toMatchObject({ kind: 'goes' });
    expect(tellWay([at(0, 0.3), at(100, 0.301), at(200, 0.3)])).toMatchObject({ kind: 'crosses' });
    expect(tellWay([at(0, 0.3), at(100, 0.2, true), at(200, 0.26)])).toEqual({
      kind: 'absent',
      reason: 'too-few-frames',
    });
    const zoomed = [100, 100, 135].map((focalLengthMm, index) => ({ ...at(100 * index, 0.3), focalLengthMm }));
    expect(tellWay(zoomed)).toEqual({ kind: 'absent', reason: 'zoomed' });
  });

  it('JU8: are near-duplicates where the bike is as large, as wide and where it was', () => {
    const boxes: readonly Box[] = [
      [0.3, 0.3, 0.4, 0.4],
      [0.31, 0.3, 0.4, 0.41],
      [0.3, 0.3, 0.2, 0.4],
      [0.5, 0.3, 0.4, 0.4],
      [0.3, 0.31, 0.21, 0.41],
    ];
    expect(nearDuplicates(boxes.map((box) => ({ box })))).toEqual([[0, 1], [2, 4], [3]]);
  });
});
