/**
 * Which bikes of which frames are worth full resolution, most worth first: what somebody is looking at, what a person kept, what
 * is proposed, then the best of every pass, then every pass' second. So whoever stops early has looked at every rider.
 */
import type { FrameId } from '../ids.js';

export interface BikeInFrame {
  readonly frameId: FrameId;
  /** Place among the frame's subjects. */
  readonly subject: number;
}

/** What measuring said of it. */
export interface BikeMeasured {
  readonly isCut: boolean;
  /** On the preview; null where nobody knows. */
  readonly sharpness: number | null;
}

export interface JudgingWish<Bike extends BikeInFrame> {
  /** On a screen now. */
  readonly lookedAt: readonly Bike[];
  readonly kept: readonly Bike[];
  readonly proposed: readonly Bike[];
  readonly passes: readonly { readonly bikes: readonly Bike[] }[];
}

/** Previews tell the sharp from the soft of one pass but for near ties; two leave the choice. Common practice, no source. */
const OF_A_PASS = 2;

/**
 * @param measuredOf null for what cannot be judged: only a person saw it, or nothing was measured of it
 * @param isJudged already, or tried in vain
 */
export function planJudging<Bike extends BikeInFrame>(
  wish: JudgingWish<Bike>,
  measuredOf: (bike: Bike) => BikeMeasured | null,
  isJudged: (bike: Bike) => boolean,
): readonly Bike[] {
  const plan = new Map<string, Bike>();
  const want = (bikes: readonly (Bike | undefined)[]): void => {
    for (const bike of bikes) {
      if (bike === undefined || measuredOf(bike) === null || isJudged(bike)) continue;
      plan.set(`${bike.frameId}:${bike.subject}`, plan.get(`${bike.frameId}:${bike.subject}`) ?? bike);
    }
  };
  want(wish.lookedAt);
  want(wish.kept);
  want(wish.proposed);
  const best = wish.passes.map(({ bikes }) => bestFirst(bikes, measuredOf));
  for (let place = 0; place < OF_A_PASS; place += 1) want(best.map((bikes) => bikes[place]));
  return [...plan.values()];
}

/** Whole before cut, then the sharper; what was judged already keeps its place, so that the plan settles. */
function bestFirst<Bike extends BikeInFrame>(
  bikes: readonly Bike[],
  measuredOf: (bike: Bike) => BikeMeasured | null,
): readonly Bike[] {
  return bikes
    .flatMap((bike, place) => {
      const measured = measuredOf(bike);
      return measured === null
        ? []
        : [{ bike, place, cut: measured.isCut ? 1 : 0, sharpness: measured.sharpness ?? 0 }];
    })
    .sort((a, b) => a.cut - b.cut || b.sharpness - a.sharpness || a.place - b.place)
    .map(({ bike }) => bike);
}
