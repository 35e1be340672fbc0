/**
 * What may stand in one rider's set beside what stands there: so many in all, so many of a spot, no frame twice, and of one
 * pass none that looks like another. Rules CH3, CH5, CH7.
 *
 * A frame that joins pushes out two at most: of a pass those that look alike lie in a row by size, so it touches one set of
 * frames that look alike before it and one behind; where it touches none, one of its full spot; and either makes room in the
 * whole. Such limits are a 2-extendible system. Where each pass can give one frame only they are a laminar matroid.
 */
import type { FrameId } from '../ids.js';
import type { Offer } from './offers.js';
import type { ChooseRules } from './types.js';

export interface Room {
  mayTake(offer: Offer): boolean;
  take(offer: Offer): void;
}

/** A person may go past every limit; only no frame stands there twice. */
export function endlessRoom(): Room {
  const frames = new Set<FrameId>();
  return {
    mayTake: ({ bike }) => !frames.has(bike.frameId),
    take: ({ bike }) => void frames.add(bike.frameId),
  };
}

export function roomBeside(standing: Iterable<Offer>, rules: Pick<ChooseRules, 'mostPerRider' | 'mostPerSpot'>): Room {
  const frames = new Set<FrameId>();
  const ofSpot = new Map<string, number>();
  const ofPass = new Map<number, Offer[]>();
  const take = (offer: Offer): void => {
    const { bike, pass } = offer;
    frames.add(bike.frameId);
    if (pass.spot !== null) ofSpot.set(pass.spot, (ofSpot.get(pass.spot) ?? 0) + 1);
    const own = ofPass.get(pass.index);
    if (own === undefined) ofPass.set(pass.index, [offer]);
    else own.push(offer);
  };
  for (const offer of standing) take(offer);
  return {
    take,
    mayTake: (offer) =>
      frames.size < rules.mostPerRider &&
      !frames.has(offer.bike.frameId) &&
      (offer.pass.spot === null || (ofSpot.get(offer.pass.spot) ?? 0) < rules.mostPerSpot) &&
      !(ofPass.get(offer.pass.index) ?? []).some((one) => looksAlike(one, offer)),
  };
}

/** Two frames of one pass look alike, unless the bike has grown or shrunk by this much between them. */
const LOOKS_DIFFERENT_FROM = 1.5;

/** Of two frames of one pass. */
export function looksAlike(a: Offer, b: Offer): boolean {
  if (!a.subject || !b.subject) return true;
  const [, , , one] = a.subject.box;
  const [, , , other] = b.subject.box;
  return Math.max(one, other) < Math.min(one, other) * LOOKS_DIFFERENT_FROM;
}
