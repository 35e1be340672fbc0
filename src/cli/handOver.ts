/** Proofs and gallery of an open meeting, for terminal and desk alike. */

import { makeProofs, type PublishingWords } from '../host/finish/index.js';
import { makeGallery, meetingSecret } from '../host/gallery/index.js';
import { newGestureId } from '../host/logbook/index.js';
import type { ActionProgress } from '../server/index.js';
import type { WholeDay } from './openWholeDay.js';
import { counted } from './words.js';

const nothingYet = 'no rider has a keeper yet. Bring cards with riders in first, or keep frames at the desk.';

type Report = (progress: ActionProgress) => void;

/** Resolves with a sentence about what was made and where. */
export async function makeMeetingProofs({ day, meeting }: WholeDay, report: Report): Promise<string> {
  const state = await day.settled();
  const made = await makeProofs(state, {
    meetingFolder: meeting.folder,
    originalOf: (frame) => day.original(frame),
    publishing: publishingOf(meeting),
    onProgress: report,
  });
  const troubles = made.failed.map((one) => ` ${one.sentence}`).join('');
  if (made.proofs.size === 0 && troubles === '') return `No proof was made: ${nothingYet}`;
  return `${counted(made.proofs.size, 'proof')} in made/proofs, ${made.made} of them new.${troubles}`;
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
  const troubles = made.failed.map((one) => ` ${one.sentence}`).join('');
  if (made.riders === 0) return `The gallery is empty: ${nothingYet}${troubles}`;
  return `${counted(made.riders, 'rider')} with ${counted(made.pictures, 'picture')} in ${made.folder}. Put that folder on any web server.${troubles}`;
}

const publishingOf = ({ about }: WholeDay['meeting']): PublishingWords => ({
  ...(about.contact === undefined ? {} : { contact: about.contact }),
  ...(about.usageTerms === undefined ? {} : { usageTerms: about.usageTerms }),
});
