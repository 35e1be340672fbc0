/** Paddock and podium: frames kept apart from the sessions, in small; the marked are named, or go back to their session. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FileId } from '../../core/ids.js';
import { APART_KINDS, type ApartKind } from '../../core/log/apartSaid.js';
import type { ApartFrameView, ApartView } from '../../server/apartTypes.js';
import { apartQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Voice } from '../marks/Voices.js';
import { say } from '../stores/said.js';
import { PerhapsApartPart } from './PerhapsApartPart.js';
import { WhoIsInIt } from './WhoIsInIt.js';

const WORDS = SHEET_WORDS.day;
/** As many as stand in a row of a wide screen. */
const MOST_AT_FIRST = 12;

export function ApartPart() {
  const { data } = useQuery(apartQuery);
  if (data === undefined) return null;
  return (
    <>
      {data.frames.length > 0 && <ApartRow view={data} />}
      <PerhapsApartPart walks={data.perhaps} />
    </>
  );
}

function ApartRow({ view: { frames, riders } }: { readonly view: ApartView }) {
  const [isOpen, setOpen] = useState(false);
  const [marked, setMarked] = useState<ReadonlySet<FileId>>(new Set());
  const shown = isOpen ? frames : frames.slice(0, MOST_AT_FIRST);
  const chosen = frames.filter(({ file }) => marked.has(file));
  const mark = (file: FileId) =>
    setMarked(new Set(marked.has(file) ? [...marked].filter((one) => one !== file) : [...marked, file]));
  return (
    <section className="part apart-row">
      <h2>
        Paddock and podium{' '}
        <span className="aside">
          {frames.length === 1 ? '1 frame' : `${frames.length} frames`} kept apart from the sessions
        </span>
      </h2>
      <ul className="tiles">
        {shown.map((frame) => (
          <ApartTile key={frame.file} frame={frame} isMarked={marked.has(frame.file)} mark={() => mark(frame.file)} />
        ))}
      </ul>
      {frames.length > MOST_AT_FIRST && (
        <button type="button" className="word" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? 'fold them' : `show the other ${frames.length - MOST_AT_FIRST}`}
        </button>
      )}
      {chosen.length === 0 ? (
        <p className="note">
          They are in nobody’s set. Mark some to name them, or to say that their session has them; what is named is
          finished with the keepers.
        </p>
      ) : (
        <OfTheMarked chosen={chosen} riders={riders} done={() => setMarked(new Set())} />
      )}
    </section>
  );
}

function ApartTile({
  frame,
  isMarked,
  mark,
}: {
  readonly frame: ApartFrameView;
  readonly isMarked: boolean;
  readonly mark: () => void;
}) {
  const inIt = frame.places.flatMap(({ rider }) => rider ?? []);
  return (
    <li className={`rider-tile${isMarked ? ' chosen' : ''}`}>
      <button type="button" aria-pressed={isMarked} onClick={mark}>
        <Picture picture={frame.picture} alt="" isWhole />
        <span className="pass-line">
          {frame.wall !== null && <span className="figure">{clockOf(frame.wall)}</span>}
          <span className={frame.words.voice}>{frame.words.text}</span>
        </span>
        <span className="note">{[...inIt, ...(frame.isKept ? ['to be finished'] : [])].join(', ')}</span>
      </button>
    </li>
  );
}

interface OfTheMarkedProps {
  readonly chosen: readonly ApartFrameView[];
  readonly riders: ApartView['riders'];
  readonly done: () => void;
}

function OfTheMarked({ chosen, riders, done }: OfTheMarkedProps) {
  const [said, setKind] = useState<ApartKind | null>(null);
  const is = said ?? chosen[0]!.is;
  const sayOfAll = (text: string, what: ApartKind | 'session') => {
    void say(
      text,
      chosen.map(({ file }) => ({ kind: 'apart', file, is: what })),
    ).then((isWritten) => isWritten && done());
  };
  const many = chosen.length === 1 ? 'The frame' : `${chosen.length} frames`;
  return (
    <div className="of-the-marked">
      {chosen.length === 1 && (
        <p>
          <Voice spoken={chosen[0]!.words} />
        </p>
      )}
      <p className="acts">
        <label>
          <span>They show</span>{' '}
          <select value={is} onChange={({ target }) => setKind(target.value as ApartKind)}>
            {APART_KINDS.map((kind) => (
              <option key={kind} value={kind}>
                {kind}
              </option>
            ))}
          </select>
        </label>{' '}
        <Act words={WORDS.nameApart} run={() => sayOfAll(`${many}: ${is}`, is)} />{' '}
        <Act words={WORDS.notApart} run={() => sayOfAll(`${many} of the session`, 'session')} />
      </p>
      {chosen.length === 1 && <WhoIsInIt key={chosen[0]!.file} frame={chosen[0]!} riders={riders} />}
    </div>
  );
}
