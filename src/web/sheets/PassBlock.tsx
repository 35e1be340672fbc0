/** One pass on a rider's sheet: a picture, its time, its frames as marks; the current one says what can be set right. */
import { useNavigate } from '@tanstack/react-router';
import { useEffect, useRef } from 'react';
import type { PassFrameView, PassView, RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf, lapOf } from '../line/lineGeometry.js';
import { FrameMark, frameWords, Picture } from '../marks/Marks.js';
import { Initialled, Voice } from '../marks/Voices.js';
import {
  divideDecisions,
  isCurrentPass,
  isMarkedPass,
  markOf,
  meantFrames,
  type RiderSheetState,
  riderSheet,
  stayingFrame,
  takeOutDecisions,
  turnMark,
} from '../stores/riderSheet.js';
import { say } from '../stores/said.js';
import { useStore } from '../stores/store.js';

const WORDS = SHEET_WORDS.rider;

/** From here on a pass says how sure it is only when it is looked at: doubt has to stand out. */
const SURE_FROM = 0.95;

export interface PassBlockProps {
  readonly pass: PassView;
  readonly view: RiderView;
  /** The one that takes the focus when none is current. */
  readonly isFirst: boolean;
  /** The session was seen from several spots: each pass says from which. */
  readonly hasOtherSpots: boolean;
}

export function PassBlock({ pass, view, isFirst, hasOtherSpots }: PassBlockProps) {
  const state = useStore(riderSheet);
  const isCurrent = isCurrentPass(pass, state);
  const isMarked = isMarkedPass(pass, state);
  const marked = isCurrent ? pass.frames.find((frame) => frame.frameId === state.frame) : undefined;
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (isCurrent) button.current?.focus();
  }, [isCurrent]);
  const shown = marked ?? pass.frames[pass.best];
  if (!shown) return null;
  const words = `${isMarked ? 'marked, ' : ''}${clockWithTenthsOf(pass.start)}${pass.spot ? ` at ${pass.spot.name}` : ''}, ${pass.frames.length} ${pass.frames.length === 1 ? 'frame' : 'frames'}`;
  return (
    <article className={`pass${isCurrent ? ' current' : ''}${isMarked ? ' marked' : ''}`}>
      {pass.laterMs !== null && <p className="later">{lapOf(pass.laterMs)} later</p>}
      <button
        ref={button}
        type="button"
        className="pass-picture"
        aria-label={words}
        aria-pressed={isCurrent}
        tabIndex={isCurrent || (state.pass === null && isFirst) ? 0 : -1}
        onClick={() => riderSheet.set({ ...state, pass: markOf(pass), frame: null })}
      >
        {isMarked && <span className="tick" aria-hidden="true" />}
        <Picture picture={shown.picture} alt="" />
      </button>
      <p className="pass-line">
        <span className="figure">{clockWithTenthsOf(pass.start)}</span>
        {hasOtherSpots && pass.spot && (
          <span className="at-spot">
            <b>{pass.spot.number}</b> {pass.spot.name}
          </span>
        )}
        {!isCurrent && (
          <span className="marks">
            {pass.frames.map((frame) => (
              <FrameMark key={frame.frameId} frame={frame} />
            ))}
          </span>
        )}
      </p>
      {pass.isSaid ? (
        <Initialled text="this rider" initials={view.initials} />
      ) : (
        pass.guess && (isCurrent || pass.guess.confidence < SURE_FROM) && <Voice spoken={pass.guess} />
      )}
      {isCurrent && <Current pass={pass} view={view} />}
    </article>
  );
}

function Current({ pass, view }: { readonly pass: PassView; readonly view: RiderView }) {
  const state = useStore(riderSheet);
  const marked = meantFrames(view, state);
  const one = pass.frames.find((frame) => frame.frameId === state.frame) ?? null;
  return (
    <>
      <div className="marks-to-press">
        {pass.frames.map((frame, i) => (
          <button
            key={frame.frameId}
            type="button"
            className={frame === one ? 'marked' : ''}
            aria-pressed={frame === one}
            aria-label={`frame ${i + 1} of ${pass.frames.length}, ${frameWords(frame)}`}
            onClick={() => riderSheet.set({ ...state, frame: frame === one ? null : frame.frameId })}
          >
            <FrameMark frame={frame} />
          </button>
        ))}
      </div>
      {one ? <FrameWords frame={one} initials={view.initials} /> : <p className="note">{meantWords(state)}</p>}
      <Acts pass={pass} view={view} marked={marked} one={one} />
    </>
  );
}

/** What was measured upright, what is only proposed in pencil, what a person said signed. */
const FrameWords = ({ frame, initials }: { readonly frame: PassFrameView; readonly initials: string }) => (
  <p className="note">
    <span className="printed">
      {frame.name}
      {frame.shutter && `, ${frame.shutter}`}
      {frame.why && `; ${frame.why}`}
    </span>{' '}
    {frame.kept === 'proposed' && (
      <span className="pencil-words">{['proposed to be kept', ...frame.keptWhy].join('; ')}</span>
    )}
    {frame.kept === 'kept-by-person' && <Initialled text="kept" initials={initials} />}
    {frame.kept === 'left-out' && <Initialled text="left out" initials={initials} />}
    {frame.isBarred && <Initialled text="in no gallery" initials={initials} />}
  </p>
);

const meantWords = ({ marked }: RiderSheetState): string =>
  marked.length === 0
    ? 'The whole pass; a comma marks one frame.'
    : `What you say is said of the ${marked.length === 1 ? 'marked pass' : `${marked.length} marked passes`}.`;

const counted = (count: number, one: string, many: string): string => (count === 1 ? one : `${count} ${many}`);

interface ActsProps {
  readonly pass: PassView;
  readonly view: RiderView;
  readonly marked: readonly PassFrameView[];
  readonly one: PassFrameView | null;
}

function Acts({ pass, view, marked, one }: ActsProps) {
  const state = useStore(riderSheet);
  const navigate = useNavigate();
  const out = takeOutDecisions(view, marked);
  const divided = divideDecisions(view, state);
  const kept = one ?? pass.frames[pass.best] ?? null;
  const isMarked = isMarkedPass(pass, state);
  const isOfMarked = one === null && state.marked.length > 0;
  const what = isOfMarked
    ? counted(state.marked.length, 'One pass', 'passes')
    : `${counted(marked.length, 'One frame', 'frames')} of ${clockWithTenthsOf(pass.start)}`;
  const takeOut = () => {
    if (!out) return;
    riderSheet.set({ ...state, frame: null, marked: [] });
    void say(`${what} off ${view.rider.code}’s sheet`, out);
    // The address may go with the pictures that leave; one that stays names the rider who is meant.
    const staying = stayingFrame(view, marked);
    if (staying)
      void navigate({
        to: '/riders/$key',
        params: { key: view.rider.key },
        search: { frame: staying },
        replace: true,
      });
  };
  const keep = (kind: 'keep' | 'leave-out') => {
    if (!kept) return;
    void say(`${kept.name} is ${kind === 'keep' ? 'kept' : 'left out'}`, [
      { kind, file: kept.file, point: kept.point },
    ]);
  };
  return (
    <div className="acts column-acts">
      <Act words={WORDS.takeOut} kind="main" run={takeOut} isOff={out === null} why="Nothing else is on this sheet." />
      <Act
        words={isMarked ? WORDS.unmark : WORDS.mark}
        run={() => riderSheet.update((before) => turnMark(view, before))}
      />
      <Act words={WORDS.moveOn} run={() => riderSheet.set({ ...state, asking: 'join-marked' })} />
      {kept && (
        <Act
          words={WORDS.whoIsIt}
          run={() => void navigate({ to: '/riders', search: { of: kept.frameId, bike: kept.subject } })}
        />
      )}
      {divided && (
        <Act
          words={WORDS.divide}
          run={() => void say(`${view.rider.code} divided at ${clockWithTenthsOf(pass.start)}`, divided)}
        />
      )}
      {kept && kept.kept !== 'kept-by-person' && <Act words={WORDS.keep} run={() => keep('keep')} />}
      {kept && kept.kept !== 'left-out' && <Act words={WORDS.leaveOut} run={() => keep('leave-out')} />}
      {kept && !kept.isBarred && (
        <Act words={WORDS.bar} run={() => riderSheet.set({ ...state, frame: kept.frameId, asking: 'bar-frame' })} />
      )}
    </div>
  );
}
