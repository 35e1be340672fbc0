/**
 * Finals of an open meeting, made by its own finishing: whole, without a mark, with the terms of the licence they were sold under. They
 * lie outside the meeting folder, beside the orders. A picture that was ordered is made although nobody keeps it any more; one that was
 * taken down is not. Rules HD15, HD16.
 */
import type { LicenceKind } from '../../../core/handover/orders/index.js';
import type { PublicId, PublicIdOf } from '../../../core/handover/types.js';
import type { FrameId, RiderKey } from '../../../core/ids.js';
import { type FinishState, type MakeFinalsOptions, makeFinals } from '../../../host/finish/index.js';
import { looksOfMeeting } from '../../../host/finish/looks/index.js';
import type { FinalMaker } from '../types.js';

export interface MeetingOfFinals {
  readonly state: FinishState;
  readonly meetingFolder: string;
  /** With the meeting's secret, as the gallery's ids were made. */
  readonly publicIdOf: PublicIdOf;
  /** As it stands in the files. */
  readonly termsOf: (licence: LicenceKind) => string;
  readonly options?: Pick<MakeFinalsOptions, 'originalOf' | 'publishing' | 'atOnce'>;
}

/** Children take about 150 MB each, and the desk goes on beside them. */
const AT_ONCE = 2;

export function finalsOfMeeting(meeting: () => Promise<MeetingOfFinals>): FinalMaker {
  return {
    make: async (pictures, { licence, longEdgePx }, folder, onProgress) => {
      const { state, meetingFolder, publicIdOf, termsOf, options } = await meeting();
      const frames = framesOf(state, publicIdOf);
      const wanted = new Map(pictures.flatMap((id) => (frames.has(id) ? [[frames.get(id)!, id] as const] : [])));
      const all = looksOfMeeting(state, new Set(wanted.keys()));
      const about = { ...state.about, finalUsageTerms: termsOf(licence) };
      const report = await makeFinals(
        { ...state, about, keepers: keepersOf(state, wanted) },
        {
          atOnce: AT_ONCE,
          ...options,
          meetingFolder,
          folder,
          longEdgePx,
          // The usual cut of a frame; its others are the photographer's.
          looksOf: (frame) => all(frame).slice(0, 1),
          only: new Set(wanted.keys()),
          onProgress: ({ done }) => onProgress(done),
        },
      );
      const made = new Map<PublicId, { path: string } | { sentence: string }>();
      for (const { frameId, path } of report.pictures) made.set(wanted.get(frameId)!, { path });
      for (const { frameId, sentence } of report.failed) made.set(wanted.get(frameId)!, { sentence });
      for (const id of wanted.values()) if (!made.has(id)) made.set(id, { sentence: SHOWN_NO_MORE });
      return made;
    },
  };
}

const framesOf = ({ arrangement }: FinishState, publicIdOf: PublicIdOf): ReadonlyMap<PublicId, FrameId> =>
  new Map(arrangement.exposures.map(({ frameId }) => [publicIdOf('frame', frameId), frameId]));

/** An order is a snapshot: whether its pictures are among today's keepers is not asked. */
function keepersOf({ keepers }: FinishState, wanted: ReadonlyMap<FrameId, PublicId>): FinishState['keepers'] {
  const rider = 'ordered' as RiderKey;
  const ordered = [...wanted.keys()].map((frameId) => ({
    rider,
    bike: { frameId, subject: 0 },
    reasons: [],
    worth: 0,
    source: 'kept-by-person' as const,
  }));
  return { ...keepers, byRider: new Map([[rider, ordered]]) };
}

const SHOWN_NO_MORE = 'It was taken down or is held back, so there is no final of it.';
