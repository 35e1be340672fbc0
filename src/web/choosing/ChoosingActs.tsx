/** What can be said of the current frame, one letter each. */
import { useRef } from 'react';
import type { RiderToChooseView } from '../../server/choosing/types.js';
import { Act, type ActProps } from '../keys/Act.js';
import { useLetter } from '../keys/keyboard.js';
import { keyOf, SHEET_WORDS } from '../keys/sheetKeys.js';
import { saidLine, sayNow } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { noteSaid } from './framesSaid.js';
import { afterLeaving, isKept, keeping, leavingOut, looking, type Place } from './looking.js';

const WORDS = SHEET_WORDS.choosing;
/** Sooner nobody has seen what stands there now: the second press was meant for the one before. */
const TOO_SOON_MS = 250;

export interface ChoosingActsProps {
  readonly view: RiderToChooseView;
  readonly current: Place | null;
  readonly beside: Place | null;
  readonly goOn: () => void;
  readonly isLast: boolean;
}

export function ChoosingActs({ view, current, beside, goOn, isLast }: ChoosingActsProps) {
  const { isFull } = useStore(looking);
  const frame = current?.frame ?? null;
  const other = beside?.frame ?? null;
  const instead = () => {
    if (!frame || !other) return;
    const gesture = sayNow(`${other.name} instead of ${frame.name}`, [leavingOut(frame), keeping(other)]);
    noteSaid(gesture, [frame], 'left-out');
    noteSaid(gesture, [other], 'kept-by-person');
    looking.update((before) => ({ ...before, current: other, beside: null }));
  };
  const leftAt = useRef(Number.NEGATIVE_INFINITY);
  const leaveOut = () => {
    if (!frame || performance.now() - leftAt.current < TOO_SOON_MS) return;
    leftAt.current = performance.now();
    looking.update((before) => afterLeaving(view, before));
    noteSaid(sayNow(`${frame.name} is left out`, [leavingOut(frame)]), [frame], 'left-out');
  };
  const keep = (one: typeof frame) => {
    if (!one) return;
    looking.update((before) => ({ ...before, current: frame }));
    noteSaid(sayNow(`${one.name} is kept`, [keeping(one)]), [one], 'kept-by-person');
  };
  const isKeptByWord = frame?.kept === 'kept-by-person';
  const noOther = 'It is the only one.';
  return (
    <div className="acts boxes choosing-acts">
      <Answering
        words={WORDS.other}
        kind="box"
        run={instead}
        isOff={other === null}
        why={noOther}
        consequence="R is kept, L left out."
      />
      <Answering
        words={WORDS.add}
        kind="box"
        run={() => keep(other)}
        isOff={other === null || other.kept === 'kept-by-person'}
        why={other === null ? noOther : `${other.name} is kept already.`}
        consequence="R is kept as well."
      />
      <Answering
        words={WORDS.leaveOut}
        kind="box"
        run={leaveOut}
        isOff={frame === null || frame.kept === 'left-out'}
        why={frame === null ? 'No frame is there.' : `${frame.name} is left out already.`}
        consequence="L is not proposed again."
      />
      <Answering
        words={WORDS.keep}
        kind="box"
        run={() => keep(frame)}
        isOff={frame === null || isKeptByWord}
        why={frame === null ? 'No frame is there.' : `${frame.name} is kept already.`}
        consequence={frame && isKept(frame) ? 'L stays, by your word.' : 'L is kept.'}
      />
      <Act
        words={isFull ? WORDS.small : WORDS.full}
        kind="box"
        run={() => looking.update((before) => ({ ...before, isFull: !before.isFull }))}
        consequence={isFull ? 'Arrows move both.' : 'A comma changes R.'}
      />
      <Act
        words={WORDS.next}
        kind="box"
        run={goOn}
        consequence={isLast ? 'Then all are gone through.' : 'As does Space.'}
      />
    </div>
  );
}

/** What cannot be said now says why when its letter is pressed: a key without an answer seems not to have been heard. */
function Answering(props: ActProps) {
  const { words, isOff = false, why } = props;
  useLetter(keyOf(words), () => saidLine.set({ kind: 'done', text: `${words}? ${why}` }), isOff);
  return <Act {...props} />;
}
