/** Whose highlights burn out and whose shadows are lost, in frames with a bike: rules PL813, PL814. */
import type { Exposure } from '../../arrange/types.js';
import type { FrameId } from '../../ids.js';
import type { FrameMeasured, FrameMeasurement } from '../../measure/types.js';
import { shareOf } from '../../numeric/wilson.js';
import { bodyName } from './dustWords.js';
import { groupedBy, MOST_EVIDENCE, percent } from './judgedBikes.js';
import type { EndOfScale } from './types.js';

/** Which end, and of how much of the picture on a frame counts (no source: leathers are dark, and a little black does no harm). */
export interface End {
  readonly from: number;
  readonly word: string;
  /** Undefined: not measured. */
  readonly shareIn: (measured: FrameMeasured) => number | undefined;
}

export const BURNT: End = { from: 0.02, word: 'clipped', shareIn: ({ clippedShare }) => clippedShare };
export const BLOCKED: End = {
  from: 0.05,
  word: 'too dark to be lifted',
  shareIn: ({ blockedShare }) => blockedShare,
};

export function endOfScale(
  exposures: readonly Exposure[],
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  end: End,
): readonly EndOfScale[] {
  const seen = exposures.flatMap((exposure) => {
    const measured = pixels.get(exposure.frameId);
    const share = exposure.role === 'bike' && measured?.kind === 'measured' ? end.shareIn(measured) : undefined;
    return share === undefined ? [] : [{ exposure, share }];
  });
  return [...groupedBy(seen, ({ exposure }) => exposure.body).values()].flatMap((frames): readonly EndOfScale[] => {
    const { body } = frames[0]!.exposure;
    const affected = frames.filter(({ share }) => share >= end.from);
    const share = shareOf(affected.length, frames.length);
    if (share === null) return [];
    const worst = [...affected].sort((a, b) => b.share - a.share).slice(0, MOST_EVIDENCE);
    return [
      {
        kind: 'measurement',
        body,
        frames: frames.length,
        affected: affected.length,
        share,
        evidence: worst.map(({ exposure }) => ({ frameId: exposure.frameId, look: null })),
        sentence: `${bodyName(body)}: more than ${percent(end.from)} % of the picture ${end.word} in ${affected.length} of ${frames.length} frames with a bike.`,
      },
    ];
  });
}
