import { describe, expect, it } from 'vitest';
import type { Arrangement } from '../../arrange/types.js';
import type { GoodFrameJudgement } from '../../cover/types.js';
import type { FrameId } from '../../ids.js';
import type { FileMetadata, FrameMeasurement } from '../../measure/types.js';
import { kitRecords } from './kitRecords.js';
import { COMMANDS } from './testing.js';

interface Taken {
  readonly shutterS: number;
  readonly is: 'good' | 'soft' | 'cut';
  readonly clippedShare?: number;
  readonly blockedShare?: number;
}

function kitOf(taken: readonly Taken[]) {
  const frames = taken.map((_, at) => `f${at}` as FrameId);
  const arrangement = {
    exposures: frames.map((frameId) => ({ frameId, mainFile: frameId, body: 'Maker|M1|7', role: 'bike' })),
    sessions: [{ index: 0, group: 'novices' }],
    passes: [{ session: 0, spot: 'beacon', bikes: frames.map((frameId) => ({ frameId, subject: 0 })) }],
  } as unknown as Arrangement;
  return kitRecords({
    arrangement,
    spotName: (spot) => spot[0]!.toUpperCase() + spot.slice(1),
    judgements: new Map(taken.map(({ is }, at) => [`f${at}:0`, { kind: is } as GoodFrameJudgement])),
    pixels: new Map(
      taken.map(({ clippedShare = 0, blockedShare }, at) => [
        frames[at]!,
        { kind: 'measured', clippedShare, blockedShare } as unknown as FrameMeasurement,
      ]),
    ),
    metadata: new Map(
      taken.map(({ shutterS }, at) => [`f${at}`, { lens: {}, exposure: { shutterS } } as unknown as FileMetadata]),
    ),
  });
}

const times = (count: number, one: Taken): readonly Taken[] => Array.from({ length: count }, () => one);

describe('what the kit did', () => {
  it('PL810: sharp frames are counted by shutter, with the range to be expected and the soft ones as evidence', () => {
    const slow = [...times(2, { shutterS: 1 / 60, is: 'good' }), ...times(6, { shutterS: 1 / 60, is: 'soft' })];
    const { sharpness } = kitOf([...times(8, { shutterS: 1 / 500, is: 'good' }), ...slow]);
    expect(sharpness.map(({ sharp, frames }) => [sharp, frames])).toEqual([
      [8, 8],
      [2, 8],
    ]);
    expect(sharpness[1]!.evidence.map(({ frameId }) => frameId)).toEqual(['f10', 'f11', 'f12', 'f13', 'f14', 'f15']);
    expect(sharpness[1]!.sentence).toContain('(Beacon, novices): 2 of 8 sharp, 7–59 % to be expected.');
  });

  it('PL819: how low is the slowest shutter that holds for half of the frames for certain, with what lies below it', () => {
    const sharp = (count: number, shutterS: number) => times(count, { shutterS, is: 'good' });
    const soft = (count: number, shutterS: number) => times(count, { shutterS, is: 'soft' });
    const { howLow } = kitOf([...sharp(9, 1 / 500), ...sharp(8, 1 / 250), ...sharp(3, 1 / 125), ...soft(5, 1 / 125)]);
    expect(howLow).toMatchObject([
      {
        sharp: 8,
        frames: 8,
        sentence:
          'Beacon: holds down to 1/250, 8 of 8 sharp (68–100 % to be expected); below that 1/125, 3 of 8 sharp (14–69 % to be expected).',
      },
    ]);
    expect(howLow[0]!.evidence).toHaveLength(5);
    expect(kitOf(sharp(8, 1 / 250)).howLow[0]!.sentence).toContain('slower was not tried often enough to say.');
    // Six of eight may be as few as two of five: that is not for certain.
    expect(kitOf([...sharp(6, 1 / 60), ...soft(2, 1 / 60)]).howLow).toMatchObject([
      { shutterS: null, sharp: 6, frames: 8 },
    ]);
    expect(kitOf(sharp(4, 1 / 60)).howLow).toEqual([]);
  });

  it('PL819: every sentence says what was seen and tells nobody what to do', () => {
    const many = [
      ...times(8, { shutterS: 1 / 500, is: 'good', clippedShare: 0.1, blockedShare: 0.1 }),
      ...times(8, { shutterS: 1 / 60, is: 'soft' }),
    ];
    const { howLow, sharpness, clipped, blocked } = kitOf(many);
    const slowOnly = kitOf(times(8, { shutterS: 1 / 60, is: 'soft' })).howLow;
    const sentences = [...howLow, ...slowOnly, ...sharpness, ...clipped, ...blocked].map(({ sentence }) => sentence);
    expect(sentences).toHaveLength(6);
    for (const sentence of sentences) expect(sentence).not.toMatch(COMMANDS);
  });

  it('PL811: cut bikes say nothing of a shutter, and fewer than five frames get no line', () => {
    expect(kitOf(times(9, { shutterS: 1 / 500, is: 'cut' })).sharpness).toEqual([]);
    expect(kitOf(times(4, { shutterS: 1 / 500, is: 'good' })).sharpness).toEqual([]);
  });

  it('PL812: one time written two ways is one step', () => {
    const { sharpness } = kitOf([
      ...times(3, { shutterS: 0.003125, is: 'good' }),
      ...times(3, { shutterS: 10 / 3205, is: 'good' }),
    ]);
    expect(sharpness.map(({ frames }) => frames)).toEqual([6]);
  });

  it('PL813: clipped highlights are counted per body, in frames with a bike', () => {
    const { clipped } = kitOf([
      { shutterS: 0.002, is: 'good', clippedShare: 0.1 },
      ...times(3, { shutterS: 0.002, is: 'good' }),
    ]);
    expect(clipped).toMatchObject([
      { body: 'Maker|M1|7', frames: 4, affected: 1, evidence: [{ frameId: 'f0', look: null }] },
    ]);
  });

  it('PL814: shadows past lifting are counted alike, the darkest first; frames measured before there was a measure say nothing', () => {
    const dark = { shutterS: 0.002, is: 'good', blockedShare: 0.06 } as const;
    const { blocked } = kitOf([dark, { ...dark, blockedShare: 0.3 }, { ...dark, blockedShare: 0.01 }]);
    expect(blocked).toMatchObject([{ frames: 3, affected: 2 }]);
    expect(blocked[0]!.evidence.map(({ frameId }) => frameId)).toEqual(['f1', 'f0']);
    expect(kitOf(times(3, { shutterS: 0.002, is: 'good' })).blocked).toEqual([]);
  });
});
