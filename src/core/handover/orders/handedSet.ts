/**
 * What an order hands over as files, and whether a person has to look first. Pictures that came to a rider by a guess may be another
 * rider's, so a whole set of them waits until two have looked at exactly these pictures. Rules HD5–HD8.
 */
import type { PublicId } from '../types.js';
import type { LicenceKind, Offer, OrderState } from './types.js';

export interface HandedFile {
  readonly picture: PublicId;
  readonly licence: LicenceKind;
  readonly longEdgePx: number | null;
  /** Its place among all the order once gave, from 1: what is withdrawn leaves a gap, and no other file changes its name. */
  readonly number: number;
  readonly day: string | null;
}

/** Prints are handed over by hand. What was withdrawn, from the order, the meeting or the contract, is in no set. */
export function handedFiles(state: OrderState, offer: Pick<Offer, 'pictures' | 'withdrawn'>): readonly HandedFile[] {
  if (state.contractWithdrawn?.parts.includes('downloads')) return [];
  const days = new Map(offer.pictures.map(({ id, day }) => [id, day]));
  const gone = new Set(offer.withdrawn);
  const given = new Set(state.pictures);
  const files = new Map<string, Omit<HandedFile, 'number'>>();
  for (const { asked, pictures, licence, longEdgePx } of state.placed?.lines ?? []) {
    if (asked.kind === 'print') continue;
    for (const picture of pictures)
      files.set(`${picture} ${licence} ${longEdgePx}`, {
        picture,
        licence,
        longEdgePx,
        day: days.get(picture) ?? null,
      });
  }
  return [...files.values()]
    .map((file, i) => ({ ...file, number: i + 1 }))
    .filter(({ picture }) => given.has(picture) && !gone.has(picture));
}

export type Release =
  | { readonly kind: 'open' }
  /** So many of the two signs are there, by these. */
  | { readonly kind: 'waits'; readonly pictures: readonly PublicId[]; readonly signedBy: readonly string[] };

/** Two persons, or one who said that they looked a second time; each of exactly these pictures. */
export function releaseOf(state: OrderState, offer: Pick<Offer, 'pictures' | 'withdrawn' | 'riders'>): Release {
  if (!isDoubtful(state, offer)) return { kind: 'open' };
  const pictures = [...new Set(handedFiles(state, offer).map(({ picture }) => picture))].sort();
  const these = pictures.join();
  const signs = state.signs.filter((sign) => [...sign.pictures].sort().join() === these);
  const first = personsOf(signs.filter(({ isSecondLook }) => !isSecondLook));
  const again = personsOf(signs.filter(({ isSecondLook }) => isSecondLook)).filter((person) => first.includes(person));
  const signedBy = [...first, ...again.map((person) => `${person}, second look`)];
  return signedBy.length >= 2 ? { kind: 'open' } : { kind: 'waits', pictures, signedBy };
}

/** However they typed their name. */
const personsOf = (signs: OrderState['signs']): readonly string[] => [
  ...new Set(signs.map(({ by }) => by.normalize('NFKC').trim().replace(/\s+/g, ' ').toLowerCase())),
];

/** By the offer of now: riders are confirmed after an order, too. One who is not there any more was separated since. */
function isDoubtful({ placed }: OrderState, { riders }: Pick<Offer, 'riders'>): boolean {
  const byId = new Map(riders.map((rider) => [rider.publicId, rider]));
  return (placed?.lines ?? []).some(
    ({ asked }) =>
      (asked.kind === 'day' || asked.kind === 'weekend') && (byId.get(asked.rider)?.isJoinedByGuess ?? true),
  );
}
