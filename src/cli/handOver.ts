/** Proofs and gallery of an open meeting, for terminal and desk alike. */

import { type MakeFinalsOptions, makeFinals, makeProofs, type PublishingWords } from '../host/finish/index.js';
import { makeGallery, meetingSecret } from '../host/gallery/index.js';
import { newGestureId } from '../host/logbook/index.js';
import type { ActionProgress } from '../server/index.js';
import type { WholeDay } from './openWholeDay.js';
import { counted } from './words.js';

const nothingYet = 'no rider has a keeper yet. Bring cards with riders in first, or keep frames at the desk.';

type Report = (progress: ActionProgress) => void;

/** Resolves with a sentence about what was made and where. */
export async function makeMeetingProofs(
  { day, meeting }: WholeDay,
  report: Report,
  wish: { readonly longEdgePx?: number } = {},
): Promise<string> {
  const state = await day.settled();
  const made = await makeProofs(state, {
    ...wish,
    meetingFolder: meeting.folder,
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  const troubles = made.failed.map((one) => `\n${one.sentence}`).join('');
  if (made.proofs.size === 0 && troubles === '') return `No proof was made: ${nothingYet}`;
  return `${counted(made.proofs.size, 'proof')} in made/proofs, ${made.made} of them new.${troubles}`;
}

/** Where no raw is there, or none can be developed, it is said whose JPEG was used. */
export async function makeMeetingFinals(
  { day, meeting }: WholeDay,
  wish: Pick<MakeFinalsOptions, 'longEdgePx' | 'from'>,
  report: Report,
): Promise<string> {
  const made = await makeFinals(await day.settled(), {
    ...wish,
    meetingFolder: meeting.folder,
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  const sentences = [
    ...made.failed.map((one) => one.sentence),
    ...made.notes,
    ...(made.withoutRaw > 0 ? [`${counted(made.withoutRaw, 'frame')} without a raw: the JPEG was used.`] : []),
  ];
  const troubles = sentences.map((one) => `\n${one}`).join('');
  if (made.pictures.length === 0 && troubles === '') return `No final was made: ${nothingYet}`;
  return `${counted(made.pictures.length, 'final')} in made/finals, ${made.made} of them new.${troubles}`;
}

export async function makeMeetingGallery({ day, meeting }: WholeDay, report: Report): Promise<string> {
  const made = await makeGallery({
    state: await day.settled(),
    meetingFolder: meeting.folder,
    secret: await meetingSecret(meeting.folder),
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  if (made.decisions.length > 0) await day.decide(newGestureId(), made.decisions);
  const troubles = made.failed.map((one) => `\n${one.sentence}`).join('');
  if (made.riders === 0) return `The gallery is empty: ${nothingYet}${troubles}`;
  return `${counted(made.riders, 'rider')} with ${counted(made.pictures, 'picture')} in ${made.folder}. Put that folder on any web server.${troubles}`;
}

export const publishingOf = ({ about }: WholeDay['meeting']): PublishingWords => ({
  ...(about.contact === undefined ? {} : { contact: about.contact }),
  ...(about.usageTerms === undefined ? {} : { usageTerms: about.usageTerms }),
});
