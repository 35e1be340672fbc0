/** Passes that are in nobody's set until somebody says whose they are: wrong is worse than unsure. */
import type { Pass, Rider } from '../../core/arrange/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { RiderView, StandingView, UnplacedPassView } from '../types.js';
import { type Known, pointOf, whereOfPass } from './known.js';
import { pictureOf } from './riderLine.js';

/** The bike of a pass that is shown and named: in the middle it is nearest. */
export const middleOf = (pass: Pass) => pass.bikes[Math.floor(pass.bikes.length / 2)] ?? pass.bikes[0];

/** In order of time. */
export const unplacedPasses = (known: Known): readonly Pass[] =>
  [...known.unplaced].flatMap((index) => known.state.arrangement.passes[index] ?? []).sort((a, b) => a.start - b.start);

export function unplacedPass(known: Known, pass: Pass): UnplacedPassView | null {
  const bike = middleOf(pass);
  return bike
    ? {
        frameId: bike.frameId,
        subject: bike.subject,
        picture: pictureOf(known, bike),
        start: pass.start,
        where: whereOfPass(known, pass),
        frames: pass.bikes.length,
        why: pass.why ?? null,
      }
    : null;
}

/** What the arrangement says of a rider and a pass. */
export function standingOf(known: Known, pass: Pass | null, rider: Rider): StandingView {
  if (pass === null) return { kind: 'other' };
  if (pass.rider === rider.key) {
    const isUnplaced = known.unplaced.has(pass.index);
    if (!isUnplaced && pass.confidence === 1) return { kind: 'said' };
    const chance = pass.confidence === undefined ? null : unitIntervalOf(pass.confidence);
    return { kind: isUnplaced ? 'guessed' : 'placed', chance };
  }
  return { kind: pass.rival === rider.key ? 'near' : 'other' };
}

/** What speaks for the pass was said of the other rider; here it would be read as of this one. */
const nearWords = (known: Known, { rider }: Pass): string =>
  `Guessed to be ${known.riderByKey.get(rider)?.code ?? 'another'}’s, but this rider comes near.`;

/** Those guessed to be this rider's, then those of whom it comes near. */
export function perhapsOf(known: Known, rider: Rider): RiderView['perhaps'] {
  const views = unplacedPasses(known).flatMap((pass) => {
    const standing = standingOf(known, pass, rider);
    const view = standing.kind === 'other' ? null : unplacedPass(known, pass);
    const bike = middleOf(pass);
    const point = bike && pointOf(known, bike);
    const why = standing.kind === 'near' ? nearWords(known, pass) : (view?.why ?? null);
    return view && point ? [{ ...view, why, point, standing }] : [];
  });
  return views.sort((a, b) => Number(a.standing.kind === 'near') - Number(b.standing.kind === 'near'));
}
