/** The frames of the current pass as they were taken, as marks on a line; L and R stand over the two that are beside each other. */
import type { ToChooseFrameView } from '../../server/choosing/types.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { FrameMark, frameWords } from '../marks/Marks.js';
import { isSame, looking, type Place } from './looking.js';

export interface PassLineProps {
  readonly current: Place;
  readonly beside: Place | null;
}

/** Frames closer than this share of the line would lie on each other. */
const EDGE_PERCENT = 6;

/** Where each frame stands on the line, in percent: by its time, or side by side where that is not known. */
function percentsOf(frames: readonly ToChooseFrameView[]): readonly number[] {
  const walls = frames.map(({ wall }) => wall);
  const known = walls.filter((wall) => wall !== null);
  const [from, to] = [Math.min(...known), Math.max(...known)];
  const inside = 100 - 2 * EDGE_PERCENT;
  return frames.map((_, i) => {
    const wall = walls[i];
    if (known.length === frames.length && wall !== null && wall !== undefined && to > from)
      return EDGE_PERCENT + (inside * (wall - from)) / (to - from);
    return frames.length === 1 ? 50 : EDGE_PERCENT + (inside * i) / (frames.length - 1);
  });
}

export function PassLine({ current, beside }: PassLineProps) {
  const { pass } = current;
  const percents = percentsOf(pass.frames);
  const isBesideHere = beside !== null && pass.frames.includes(beside.frame);
  return (
    <div className="pass-of-set">
      <p>
        <span className="figure">{clockWithTenthsOf(pass.start)}</span>{' '}
        <span className="where">
          {pass.session}
          {pass.spot && (
            <>
              , <b>{pass.spot.number}</b> {pass.spot.name}
            </>
          )}
        </span>
      </p>
      <ol className="frames-of-pass" aria-label="Frames of this pass">
        {pass.frames.map((frame, i) => {
          const letter = isSame(frame, current.frame) ? 'L' : isBesideHere && isSame(frame, beside.frame) ? 'R' : null;
          return (
            <li key={`${frame.frameId}/${frame.subject}`} style={{ insetInlineStart: `${percents[i]}%` }}>
              <button
                type="button"
                data-decides=""
                tabIndex={-1}
                className={letter === null ? '' : 'shown'}
                aria-label={`frame ${i + 1} of ${pass.frames.length}, ${frameWords(frame)}${letter === 'L' ? ', on the left' : letter === 'R' ? ', on the right' : ''}`}
                onClick={() =>
                  looking.update((before) =>
                    isSame(frame, current.frame) ? before : { ...before, current: current.frame, beside: frame },
                  )
                }
              >
                <FrameMark frame={frame} />
                {letter && (
                  <span className="disc" aria-hidden="true">
                    {letter}
                  </span>
                )}
              </button>
              <Blemish frame={frame} />
            </li>
          );
        })}
      </ol>
    </div>
  );
}

/** Why a frame is not among the good ones, in a word beside its mark. */
function Blemish({ frame }: { readonly frame: ToChooseFrameView }) {
  if (frame.isGood || frame.blemish === null) return null;
  return <span className="blemish">{frame.blemish}</span>;
}
