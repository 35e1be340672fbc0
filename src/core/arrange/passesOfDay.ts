/** Everything that does not depend on clocks: exposures in recorded order, bikes, bursts and passes. */
import type { FrameMeasured } from '../measure/types.js';
import type { WallMs } from '../units.js';
import { type Bikes, bikesOf, type Pieces } from './bikes.js';
import { exposuresOf, type RawExposure } from './exposures.js';
import { orderOfDay } from './order.js';
import { burstsOf, passesOf } from './passes.js';
import type { Calibration } from './riders/calibration.js';
import type { ArrangeInput, Exposure } from './types.js';

export interface SeenDay {
  /** In order of recorded time. */
  readonly exposures: readonly RawExposure[];
  readonly measured: readonly (FrameMeasured | null)[];
  readonly roles: readonly Exposure['role'][];
  readonly bursts: Int32Array;
  readonly bikes: Bikes;
  readonly pieces: Pieces;
  readonly passLikeness: number;
  /** Bikes of each pass. */
  readonly passes: readonly (readonly number[])[];
}

/** At this score a frame is a divider, if no bike is in it. */
const LEAST_DIVIDER_SCORE = 0.5;

/** @param logged what was learnt earlier; null: to be learnt from the day. */
export function seeDay(
  input: ArrangeInput,
  fillBodies: Parameters<typeof exposuresOf>[2],
  logged: Calibration | null,
): SeenDay {
  const raw = exposuresOf(input.files, input.pixels, fillBodies);
  const order = orderOfDay(raw, raw.map(recordedWall));
  const exposures = order.map((i) => raw[i]!);
  const measured = exposures.map(({ frameId }) => {
    const pixels = input.pixels.get(frameId);
    return pixels?.kind === 'measured' ? pixels : null;
  });
  const frames = exposures.map((exposure) => ({
    wall: recordedWall(exposure),
    session: 0,
    body: exposure.body,
    spot: null,
  }));
  const bursts = burstsOf(frames);
  const { bikes, pieces, passLikeness } = bikesOf(measured, bursts, logged);
  return {
    exposures,
    measured,
    roles: exposures.map((exposure) => roleOf(exposure, input)),
    bursts,
    bikes,
    pieces,
    passLikeness,
    passes: passesOf(bikes, frames, bursts, passLikeness).map((pass) => pass.bikes),
  };
}

export const recordedWall = ({ recorded }: RawExposure): WallMs | null =>
  typeof recorded === 'number' ? recorded : null;

function roleOf(exposure: RawExposure, input: ArrangeInput): Exposure['role'] {
  const pixels = input.pixels.get(exposure.frameId);
  if (pixels === undefined) return 'unmeasured';
  if (pixels.kind === 'unmeasurable') return 'unmeasurable';
  if (pixels.subjects.some(({ what }) => what === 'motorcycle')) return 'bike';
  return pixels.dividerScore >= LEAST_DIVIDER_SCORE ? 'divider' : 'scenery';
}
