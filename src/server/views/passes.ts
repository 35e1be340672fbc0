/** A pass as the screen shows it: its frames as marks, the best one as a picture. */
import type { BikeRef, Pass } from '../../core/arrange/types.js';
import { bikeKeyOf, type Judgements, judgeBikes } from '../../core/cover/index.js';
import { shutterName } from '../../core/numeric/exposure.js';
import type { Milliseconds } from '../../core/units.js';
import { millisecondsOf, unitIntervalOf } from '../../core/units.js';
import type { PassFrameView, PassView } from '../types.js';
import { bikeKey, type Known, metadataOf, pointOf, subjectOf } from './known.js';
import { pictureOf } from './riderLine.js';

/** Slower than this streaks the ground (TRADE.md: 1/160 is 5 % of the bike at 60 km/h, 10 % at 120). */
const SLOW_FROM_S = 1 / 200;

/** Judging all bikes takes longer than one view needs; done once per state, and only when a pass is shown. */
const judged = new WeakMap<Known, Judgements>();
export const judgementsOf = (known: Known): Judgements => {
  const before =
    judged.get(known) ?? judgeBikes(known.state.arrangement, known.state.pixels, known.state.coverage.rules.goodFrame);
  judged.set(known, before);
  return before;
};

function frameView(known: Known, bike: BikeRef): PassFrameView | null {
  const exposure = known.exposureById.get(bike.frameId);
  const point = pointOf(known, bike);
  if (!exposure || !point) return null;
  const shutterS = metadataOf(known, bike.frameId)?.exposure.shutterS;
  const judgement = judgementsOf(known).get(bikeKeyOf(bike));
  return {
    frameId: bike.frameId,
    subject: bike.subject,
    file: exposure.mainFile,
    name: exposure.path.split('/').at(-1) ?? exposure.path,
    wall: exposure.wall,
    body: exposure.body,
    picture: pictureOf(known, bike),
    point,
    isGood: judgement?.kind === 'good',
    why: judgement?.reason ?? null,
    isSlow: shutterS !== undefined && shutterS > SLOW_FROM_S,
    shutter: shutterS === undefined ? null : shutterName(shutterS),
    kept: known.kept.get(bikeKey(bike.frameId, bike.subject)) ?? null,
    keptWhy: known.keptWhy.get(bikeKey(bike.frameId, bike.subject)) ?? [],
    isBarred: known.down.frames.has(bike.frameId),
  };
}

/** Kept before good before sharp: what a person would want to see of this pass. */
const bestOf = (known: Known, pass: Pass, frames: readonly PassFrameView[]): number => {
  const worth = frames.map((frame, i) => {
    const subject = subjectOf(known, pass.bikes[i] ?? { frameId: frame.frameId, subject: -1 });
    const sharpness = subject && !('kind' in subject.sharpness) ? subject.sharpness.overall : 0;
    return (
      (frame.kept === 'left-out' ? -4 : frame.kept === null ? 0 : 4) +
      (frame.isGood ? 2 : 0) +
      sharpness / (1 + sharpness)
    );
  });
  return worth.indexOf(Math.max(...worth));
};

export function passView(known: Known, pass: Pass, laterMs: Milliseconds | null): PassView {
  const frames = pass.bikes.flatMap((bike) => frameView(known, bike) ?? []);
  const spot = pass.spot === null ? undefined : known.spotById.get(pass.spot);
  return {
    index: pass.index,
    start: pass.start,
    spot: spot ? { number: spot.number, name: spot.name } : null,
    frames,
    best: Math.max(0, bestOf(known, pass, frames)),
    laterMs,
    isSaid: frames.some((frame) => known.saidFiles.has(frame.file)),
    guess: guessOf(pass),
  };
}

/** A pass that was said to be its rider's has a confidence of 1 and nothing to guess. */
const guessOf = ({ confidence, why }: Pass): PassView['guess'] =>
  confidence === undefined || confidence >= 1
    ? null
    : {
        voice: 'pencilled',
        text: 'this rider',
        confidence: unitIntervalOf(confidence),
        reasons: why === undefined ? [] : [why],
      };

/** Passes in order of time, each with the time since the one before it. */
export const passViews = (known: Known, passes: readonly Pass[]): readonly PassView[] => {
  const inOrder = [...passes].sort((a, b) => a.start - b.start);
  return inOrder.map((pass, i) => {
    const before = inOrder[i - 1];
    return passView(known, pass, before ? millisecondsOf(pass.start - before.start) : null);
  });
};
