import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { Decision } from '../log/types.js';
import type { Box, Subject } from '../measure/types.js';
import type { Bikes } from './bikes.js';
import { arrange } from './index.js';
import { findPieces } from './pieces.js';

const subject = (box: Box, riderBox?: Box): Subject => ({
  what: 'motorcycle',
  box,
  bikeBox: box,
  ...(riderBox === undefined ? {} : { riderBox }),
  score: 0.8,
  isMain: false,
  isCut: false,
  bikeColours: [],
  riderColours: [],
  sharpness: { kind: 'absent', reason: 'not-measured' },
  descriptor: '',
});

/** Each bike looks in one direction, in degrees. */
const bikesOf = (
  list: readonly { readonly frame: number; readonly angle: number; readonly box: Box; readonly riderBox?: Box }[],
): Bikes => ({
  count: list.length,
  exposure: Int32Array.from(list, ({ frame }) => frame),
  subject: Int32Array.from(list, (_, i) => i),
  dimensions: 2,
  descriptors: Float32Array.from(
    list.flatMap(({ angle }) => [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)]),
  ),
  subjects: list.map(({ box, riderBox }) => subject(box, riderBox)),
});

const LEFT: Box = [0.05, 0.3, 0.3, 0.5];
const RIGHT: Box = [0.6, 0.3, 0.3, 0.5];
/** Twelve pictures of two bikes side by side that look 70 to 92 degrees apart. */
const sideBySide = Array.from({ length: 12 }, (_, i) => [
  { frame: 100 + i, angle: 0, box: LEFT },
  { frame: 100 + i, angle: 70 + 2 * i, box: RIGHT },
]).flat();
const INSIDE: Box = [0.12, 0.4, 0.15, 0.3];
/** On a day with those pictures, too, from which is learned how much two bikes differ. */
const piecesAmong = (...bikes: Parameters<typeof bikesOf>[0]) => findPieces(bikesOf([...bikes, ...sideBySide]));

describe('pieces of bikes', () => {
  it('AR23: a box inside another that looks like it is a piece of that bike', () => {
    const pieces = piecesAmong({ frame: 0, angle: 0, box: LEFT }, { frame: 0, angle: 30, box: INSIDE });
    expect([...pieces]).toEqual([[1, 0]]);
  });

  it('AR23: a bike far behind a near one, in its box but of other looks, stays a bike', () => {
    expect(piecesAmong({ frame: 0, angle: 0, box: LEFT }, { frame: 0, angle: 80, box: INSIDE }).size).toBe(0);
  });

  it('AR23: two that are alike and ridden by two people stay two unless they look the same', () => {
    const ridden = (angle: number) =>
      piecesAmong(
        { frame: 0, angle: 0, box: LEFT, riderBox: [0.05, 0.3, 0.06, 0.4] },
        { frame: 0, angle, box: INSIDE, riderBox: [0.14, 0.4, 0.1, 0.2] },
      );
    expect(ridden(65).size).toBe(0);
    expect(ridden(5).size).toBe(1);
  });

  it('AR23: boxes that only overlap stay two, however alike', () => {
    const pieces = piecesAmong({ frame: 0, angle: 0, box: LEFT }, { frame: 0, angle: 0, box: [0.2, 0.3, 0.3, 0.5] });
    expect(pieces.size).toBe(0);
  });

  it('AR23: a piece of a piece belongs to the bike', () => {
    const pieces = piecesAmong(
      { frame: 0, angle: 10, box: [0.15, 0.45, 0.08, 0.15] },
      { frame: 0, angle: 0, box: LEFT },
      { frame: 0, angle: 5, box: INSIDE },
    );
    expect(new Map(pieces)).toEqual(
      new Map([
        [0, 1],
        [2, 1],
      ]),
    );
  });
});

describe('a day with boxes too many', () => {
  const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 }));
  const day = syntheticDay({
    ...hardDay('s74', 4),
    groups,
    rounds: 3,
    detector: { missedShare: 0, surplusShare: 0.15 },
  });
  const pieces = [...day.input.pixels.values()].flatMap((frame) =>
    frame.kind === 'measured'
      ? frame.subjects.flatMap(({ score, box }, subjectIndex) =>
          score === 0.45 ? [{ frameId: frame.frameId, subject: subjectIndex, box }] : [],
        )
      : [],
  );

  it('AR23: nearly no piece is a bike of its own', () => {
    const found = new Set(
      arrange(day.input).passes.flatMap(({ bikes }) => bikes.map(({ frameId, subject: s }) => `${frameId}:${s}`)),
    );
    const left = pieces.filter(({ frameId, subject: s }) => found.has(`${frameId}:${s}`));
    expect(pieces.length).toBeGreaterThan(100);
    expect(left.length / pieces.length).toBeLessThan(0.06);
  });

  it('AR23: a word about a piece is a word about the bike', () => {
    const before = arrange(day.input);
    const [first, second] = before.riders;
    const piece = pieces.find(({ frameId }) =>
      before.passes.some(({ bikes, rider }) => rider === first!.key && bikes.some((bike) => bike.frameId === frameId)),
    )!;
    const fileOf = (frameId: string) => before.exposures.find((exposure) => exposure.frameId === frameId)!.mainFile;
    const frame = day.input.pixels.get(second!.face.frameId)!;
    const box = frame.kind === 'measured' ? frame.subjects[second!.face.subject]!.box : piece.box;
    const middle = ([left, top, width, height]: Box) => ({ x: left + width / 2, y: top + height / 2 });
    const same: Decision = {
      kind: 'same-rider',
      points: [
        { file: fileOf(piece.frameId), ...middle(piece.box) },
        { file: fileOf(second!.face.frameId), ...middle(box) },
      ],
    };
    // Said twice: the laps may forbid it (AR34).
    const after = arrange({ ...day.input, log: foldedOf([same, same]) });
    expect(after.saidBikes).toEqual([]);
    const riderOf = (frameId: string, own: (s: number) => boolean) =>
      after.passes.find(({ bikes }) => bikes.some((bike) => bike.frameId === frameId && own(bike.subject)))?.rider;
    expect(riderOf(piece.frameId, (s) => s === 0)).toBe(
      riderOf(second!.face.frameId, (s) => s === second!.face.subject),
    );
  });
});
