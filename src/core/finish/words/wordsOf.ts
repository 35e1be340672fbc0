/** The words of one picture, from what is known of the meeting and of the frame. */
import type { Arrangement, Exposure, Rider } from '../../arrange/types.js';
import type { FrameId, RiderKey } from '../../ids.js';
import { said } from '../files/said.js';
import type { PictureWords } from '../types.js';

/** What the meeting says of itself and of whoever took the pictures. */
export interface MeetingWords {
  readonly name: string;
  readonly circuit?: string;
  /** `YYYY-MM-DD`. */
  readonly firstDay: string;
  readonly spots: readonly { readonly id: string; readonly name: string }[];
  readonly creator?: string;
  readonly credit?: string;
  readonly copyright?: string;
  /** An e-mail or a web address. */
  readonly contact?: string;
  /** Of proofs. */
  readonly usageTerms?: string;
  readonly finalUsageTerms?: string;
}

/** A proof says whose it is and of what day; how it may be found is the gallery's business. */
export const proofWords = (exposure: Exposure, about: MeetingWords): PictureWords => ({
  ...whoseItIs(exposure, about),
  title: null,
  keywords: [],
  usageTerms: about.usageTerms ?? `Proof, for looking at only. Not to be published or printed; ask ${creditOf(about)}.`,
});

/** A final is found again by session, spot, rider's code and number, in whatever program it lands. */
export function finalWords(
  exposure: Exposure,
  about: MeetingWords,
  arrangement: Pick<Arrangement, 'sessions'>,
  riders: readonly Rider[],
): PictureWords {
  const session = exposure.session === null ? undefined : arrangement.sessions[exposure.session];
  const spot = about.spots.find(({ id }) => id === exposure.spot)?.name;
  const time = exposure.wall === null ? undefined : new Date(exposure.wall).toISOString().slice(11, 19);
  // Guessed, it is nobody's word.
  const apart = exposure.apart?.source.kind === 'said' ? exposure.apart.is : undefined;
  const whose = whoseItIs(exposure, about);
  return {
    ...whose,
    title: [whose.event, session?.name, spot, apart, time].filter((part) => part !== undefined).join(', '),
    keywords: distinct([session?.name, session?.group ?? undefined, spot, apart, ...riders.flatMap(wordsOfRider)]),
    usageTerms:
      about.finalUsageTerms ?? `For personal use. Not to be published, sold or passed on; ask ${creditOf(about)}.`,
  };
}

/** Every rider in a frame, in the arrangement's order. */
export function ridersByFrame(arrangement: Arrangement): ReadonlyMap<FrameId, readonly Rider[]> {
  const keys = new Map<FrameId, Set<RiderKey>>();
  const note = (frame: FrameId, rider: RiderKey) => keys.set(frame, (keys.get(frame) ?? new Set()).add(rider));
  for (const pass of arrangement.passes) for (const bike of pass.bikes) note(bike.frameId, pass.rider);
  for (const bike of arrangement.saidBikes) note(bike.frameId, bike.rider);
  return new Map([...keys].map(([frame, riders]) => [frame, arrangement.riders.filter(({ key }) => riders.has(key))]));
}

const wordsOfRider = (rider: Rider): readonly string[] => [rider.code, said(rider.number, rider.numberSource)];

const distinct = (words: readonly (string | undefined)[]): readonly string[] => [
  ...new Set(words.filter((word): word is string => word !== undefined && word !== '')),
];

const creditOf = (about: MeetingWords): string => about.credit ?? about.creator ?? about.name;

type Whose = Omit<PictureWords, 'title' | 'keywords' | 'usageTerms'>;

function whoseItIs(exposure: Exposure, about: MeetingWords): Whose {
  const creator = about.creator ?? null;
  const year = about.firstDay.slice(0, 4);
  return {
    creator,
    credit: creditOf(about),
    copyright: about.copyright ?? (creator === null ? null : `© ${year} ${creator}`),
    event: eventOf(about),
    contact: about.contact ?? null,
    captured: exposure.wall === null ? null : { wall: exposure.wall, instant: exposure.instant },
  };
}

/** The meeting's name, with its circuit where the name does not say it. */
const eventOf = ({ name, circuit }: MeetingWords): string =>
  circuit === undefined || name.includes(circuit) ? name : `${name}, ${circuit}`;
