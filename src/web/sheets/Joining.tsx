/** Whom the marked frames, or the whole rider, are joined with; and what follows from it. */
import { useNavigate } from '@tanstack/react-router';
import type { RiderView } from '../../server/types.js';
import { joinWholeDecisions, meantFrames, moveDecisions, NOTHING_MARKED, riderSheet } from '../stores/riderSheet.js';
import { say } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { JoinPart } from './JoinPart.js';

export function Joining({ view, isWhole }: { readonly view: RiderView; readonly isWhole: boolean }) {
  const navigate = useNavigate();
  const state = useStore(riderSheet);
  const close = () => riderSheet.set({ ...riderSheet.get(), asking: null });
  const marked = meantFrames(view, state);
  const join = (other: RiderView['nearest'][number]) => {
    const decisions = isWhole ? joinWholeDecisions(view, other.anchor) : moveDecisions(view, marked, other.anchor);
    if (!decisions) return;
    const what = isWhole
      ? `${view.rider.code} and ${other.rider.code} are one rider`
      : `${marked.length === 1 ? 'One frame' : `${marked.length} frames`} of ${view.rider.code} joined to ${other.rider.livery.words}, ${other.rider.code}`;
    void say(what, decisions).then((isSaid) => {
      if (!isSaid) return;
      riderSheet.set(NOTHING_MARKED);
      if (isWhole)
        void navigate({
          to: '/riders/$key',
          params: { key: other.rider.key },
          search: { frame: other.rider.face.frameId },
        });
    });
  };
  return (
    <JoinPart
      view={view}
      what={
        isWhole
          ? 'Who else is this rider?'
          : `Whose ${marked.length === 1 ? 'frame is' : 'frames are'} this?`.replace(
              'frames are this',
              'frames are these',
            )
      }
      join={join}
      close={close}
    />
  );
}
