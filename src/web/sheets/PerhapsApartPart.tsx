/** Perhaps of the paddock: frames in nobody's set that one key keeps apart, and one leaves where they are; neither is asked again. */
import type { ApartFrameView, ApartView } from '../../server/apartTypes.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Voice } from '../marks/Voices.js';
import { say } from '../stores/said.js';

const WORDS = SHEET_WORDS.day;

/** One walk at a time: after its answer the next stands there. */
export function PerhapsApartPart({ walks }: { readonly walks: ApartView['perhaps'] }) {
  const [walk, ...rest] = walks;
  if (walk === undefined) return null;
  const many = walk.length === 1 ? 'The frame' : `The ${walk.length} frames`;
  const answer = (text: string, isOf: (frame: ApartFrameView) => ApartFrameView['is'] | 'session') =>
    void say(
      `${many} ${text}`,
      walk.map((frame) => ({ kind: 'apart', file: frame.file, is: isOf(frame) })),
    );
  return (
    <section className="part apart-row perhaps-apart">
      <h2>
        Perhaps of the paddock{' '}
        <span className="aside">
          {walk.length === 1 ? '1 frame' : `${walk.length} frames of one walk`} in nobody’s set
          {rest.length > 0 && `; ${rest.length} more such ${rest.length === 1 ? 'walk' : 'walks'} after it`}
        </span>
      </h2>
      <ul className="tiles">
        {walk.map((frame) => (
          <li key={frame.file} className="rider-tile">
            <Picture picture={frame.picture} alt="" isWhole />
            <span className="pass-line">
              {frame.wall !== null && <span className="figure">{clockOf(frame.wall)}</span>}
              <Voice spoken={frame.words} />
            </span>
          </li>
        ))}
      </ul>
      <p className="acts">
        <Act words={WORDS.areApart} run={() => answer('kept apart from the sessions', ({ is }) => is)} />{' '}
        <Act words={WORDS.leaveThere} run={() => answer('left in the day', () => 'session')} />
      </p>
    </section>
  );
}
