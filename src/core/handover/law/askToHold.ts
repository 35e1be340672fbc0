/**
 * Frames that may show a fall, to be asked about before they are shown: no picture tells a crash from a daring line, so nothing is
 * held back by itself, and what is not asked about may be one all the same. A person says `held`, and only a person `released`.
 * Rules LW17, LW18.
 */
import type { BikeRef } from '../../arrange/types.js';
import type { FrameId } from '../../ids.js';
import type { Judged } from '../../judge/types.js';

/** By reasoning, no source: riders on tracks lean a little over 60°, hanging off shows more; beyond that somebody may be falling. */
const MOST_LEAN_DEG = 65;
/** By reasoning: two metres of bike, and a rider's back at its lowest is over eighty centimetres high. Lower than that it lies. */
const LYING_ASPECT = 2.5;

export interface HoldQuestion {
  readonly frame: FrameId;
  readonly why: readonly string[];
}

export function askToHold(
  shown: readonly BikeRef[],
  judged: ReadonlyMap<string, Judged>,
  /** Held already, released by a person, or taken down. */
  answered: ReadonlySet<FrameId>,
): readonly HoldQuestion[] {
  const asked = new Map<FrameId, readonly string[]>();
  for (const { frameId, subject } of shown) {
    const judgement = judged.get(`${frameId}:${subject}`);
    const why = judgement === undefined || answered.has(frameId) ? [] : whyOf(judgement);
    if (why.length > 0) asked.set(frameId, [...(asked.get(frameId) ?? []), ...why]);
  }
  return [...asked].map(([frame, why]) => ({ frame, why }));
}

function whyOf({ lean, aspect }: Judged): readonly string[] {
  const deg = lean.kind === 'lean' ? Math.abs(lean.leanDeg) : 0;
  return [
    ...(deg > MOST_LEAN_DEG ? [`Bike and rider lean ${Math.round(deg)}° in the picture.`] : []),
    ...(aspect > LYING_ASPECT ? [`The bike is ${aspect.toFixed(1)} times as wide as it is high: it may lie.`] : []),
  ];
}
