/** Proofs and gallery of an open meeting, for terminal and desk alike. */

import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { LANGUAGES, type Language } from '../gallery/index.js';
import { cardsOfMeeting } from '../host/cards/index.js';
import type { DayState } from '../host/day/types.js';
import { type MakeFinalsOptions, makeFinals, makeProofs, type PublishingWords } from '../host/finish/index.js';
import { type GalleryReport, type MakeGalleryOptions, makeGallery, meetingSecret } from '../host/gallery/index.js';
import { newGestureId } from '../host/logbook/index.js';
import { readAbout } from '../host/meeting/about.js';
import type { ActionProgress } from '../server/index.js';
import { layOffer, tellService } from './layOffer.js';
import type { WholeDay } from './openWholeDay.js';
import type { AskWish } from './ordersCommand.js';
import { counted } from './words.js';

const nothingYet = 'no rider has a keeper yet. Bring cards with riders in first, or keep frames at the desk.';

/** Size and mark of proofs may have been said since the meeting was opened, at the desk or in a terminal. */
async function stateNow({ day, meeting }: WholeDay): Promise<DayState> {
  const state = await day.settled();
  const { markPicture, proofLongEdgePx } = await readAbout(meeting.folder);
  const about = {
    ...state.about,
    ...(markPicture === undefined ? {} : { markPicture }),
    ...(proofLongEdgePx === undefined ? {} : { proofLongEdgePx }),
  };
  return { ...state, about };
}

type Report = (progress: ActionProgress & { readonly words?: string }) => void;

export interface Made {
  /** What was made and where, and a line for each picture that was not. */
  readonly sentence: string;
  /** So many pictures were not made. */
  readonly refused: number;
}

type Failed = readonly { readonly sentence: string }[];

const madeOf = (what: string, failed: Failed, more: readonly string[] = []): Made => ({
  sentence: [what, ...failed.map((one) => one.sentence), ...more].join('\n'),
  refused: failed.length,
});

export async function makeMeetingProofs(
  whole: WholeDay,
  report: Report,
  wish: { readonly longEdgePx?: number; readonly markPicture?: string } = {},
): Promise<Made> {
  const { day, meeting } = whole;
  const state = await stateNow(whole);
  const made = await makeProofs(state, {
    ...wish,
    meetingFolder: meeting.folder,
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  if (made.proofs.size === 0 && made.failed.length === 0) return madeOf(`No proof was made: ${nothingYet}`, []);
  return madeOf(`${counted(made.proofs.size, 'proof')} in made/proofs, ${made.made} of them new.`, made.failed);
}

/** Where no raw is there, or none can be developed, it is said whose JPEG was used. */
export async function makeMeetingFinals(
  { day, meeting }: WholeDay,
  wish: Pick<MakeFinalsOptions, 'longEdgePx' | 'from' | 'signal'>,
  report: Report,
): Promise<Made> {
  const made = await makeFinals(await day.settled(), {
    ...wish,
    meetingFolder: meeting.folder,
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  if (made.pictures.length === 0 && made.failed.length === 0 && !made.wasStopped)
    return madeOf(`No final was made: ${nothingYet}`, []);
  const notes = [
    ...made.notes,
    ...(made.withoutRaw > 0 ? [`${counted(made.withoutRaw, 'frame')} without a raw: the JPEG was used.`] : []),
  ];
  const stopped = made.wasStopped ? ' Stopped before the rest; made again, it goes on from there.' : '';
  const what = `${counted(made.pictures.length, 'final')} in made/finals, ${made.made} of them new.${stopped}`;
  return madeOf(what, made.failed, notes);
}

export async function makeMeetingGallery(whole: WholeDay, report: Report, ask: AskWish = {}): Promise<Made> {
  const made = await makeWholeGallery(whole, report);
  const laid = await layOffer(whole, made.report);
  return laid === null ? made : { ...made, sentence: `${made.sentence}\n${await tellService(laid, ask)}` };
}

/** Without a report nothing was made. */
export interface MadeGallery extends Made {
  readonly report: GalleryReport | null;
}

/** With `isFirst` one best picture of each rider, unless a gallery stands already; what it adds to the log waits for the whole. */
export async function makeWholeGallery(
  whole: WholeDay,
  report: Report,
  { isFirst = false }: { readonly isFirst?: boolean } = {},
): Promise<MadeGallery> {
  const { day, meeting } = whole;
  const state = await stateNow(whole);
  const standing = join(meeting.folder, 'made', 'gallery', state.about.firstDay, 'index.html');
  if (isFirst && existsSync(standing))
    return { ...madeOf('A gallery stands already: it is made whole at once.', []), report: null };
  const made = await makeGallery({
    state,
    meetingFolder: meeting.folder,
    secret: await meetingSecret(meeting.folder),
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: (at) => report({ ...at, words: `${at.part}: ${at.count} of ${at.of}` }),
    onlyBest: isFirst,
    ...(await galleryWishOf(whole)),
  });
  if (!isFirst && made.decisions.length > 0) await day.decide(newGestureId(), made.decisions);
  if (made.riders === 0) return { ...madeOf(`The gallery is empty: ${nothingYet}`, made.failed), report: made };
  const what = isFirst
    ? `One picture of each of ${counted(made.riders, 'rider')} in ${made.folder}; the rest follows.`
    : `${counted(made.riders, 'rider')} with ${counted(made.pictures, 'picture')} in ${made.folder}. Put that folder on any web server.`;
  return { ...madeOf(what, made.failed), report: made };
}

/** What was said of the gallery and stands in `meeting.json`, and whom riders may be looked for as. */
async function galleryWishOf({ meeting }: WholeDay): Promise<Partial<MakeGalleryOptions>> {
  const { galleryAddress, ordersAddress, galleryLanguage, mayBeNamed = false } = await readAbout(meeting.folder);
  const language = LANGUAGES.find((one): one is Language => one === galleryLanguage);
  const cards = await cardsOfMeeting(meeting.folder, meeting.people);
  const persons = meeting.people.all().map(({ id, name, card }) => ({
    id,
    ...(name === undefined ? {} : { name }),
    // A card that was handed on is its last holder's.
    ...(card !== undefined && cards?.personOf(card) === id ? { cardToken: cards.tokenOf(card) } : {}),
  }));
  return {
    people: { persons, mayBeNamed },
    ...(galleryAddress === undefined ? {} : { address: galleryAddress }),
    ...(ordersAddress === undefined ? {} : { shop: ordersAddress }),
    ...(language === undefined ? {} : { language }),
  };
}

export const publishingOf = ({ about }: WholeDay['meeting']): PublishingWords => ({
  ...(about.contact === undefined ? {} : { contact: about.contact }),
  ...(about.usageTerms === undefined ? {} : { usageTerms: about.usageTerms }),
});
