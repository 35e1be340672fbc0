/** Riders to join with, most alike first. Arrows move, the letter joins. */
import { useEffect, useRef, useState } from 'react';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { useArrows } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { GroupLetter, Picture } from '../marks/Marks.js';
import { RiderMarks } from './RiderTile.js';

type Candidate = RiderView['nearest'][number];

export interface JoinPartProps {
  readonly view: RiderView;
  readonly what: string;
  readonly join: (other: Candidate) => void;
  readonly close: () => void;
}

export function JoinPart({ view, what, join, close }: JoinPartProps) {
  const [at, setAt] = useState(0);
  const current = useRef<HTMLButtonElement>(null);
  const candidates = view.nearest;
  const step = (by: number) => setAt((before) => Math.min(candidates.length - 1, Math.max(0, before + by)));
  useArrows({ across: (by) => step(by), along: (by) => step(by) });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the focus follows the current candidate
  useEffect(() => current.current?.focus(), [at]);
  const chosen = candidates[at];
  if (!chosen)
    return (
      <section className="part join">
        <h2>{what}</h2>
        <p className="note">There is no other rider in the pictures yet.</p>
        <Act words={SHEET_WORDS.join.back} run={close} />
      </section>
    );
  return (
    <section className="part join">
      <h2>
        {what} <span className="aside">most alike first</span>
      </h2>
      <ul className="tiles">
        {candidates.map((candidate, i) => (
          <li key={candidate.rider.key} className={`rider-tile${i === at ? ' chosen' : ''}`}>
            <button
              ref={i === at ? current : null}
              type="button"
              aria-pressed={i === at}
              tabIndex={i === at ? 0 : -1}
              onClick={() => setAt(i)}
            >
              <Picture picture={candidate.rider.face} alt="" />
              <RiderMarks rider={candidate.rider} />
              {candidate.group && <GroupLetter group={candidate.group} />}
            </button>
          </li>
        ))}
      </ul>
      <div className="acts boxes">
        <Act
          words={SHEET_WORDS.join.join}
          kind="box"
          run={() => join(chosen)}
          consequence={`${view.rider.livery.words} (${view.rider.code}) goes with ${chosen.rider.livery.words} (${chosen.rider.code}). It is kept for good and can be taken back.`}
        />
        <Act words={SHEET_WORDS.join.back} kind="box" run={close} consequence="Everything stays as it is." />
      </div>
    </section>
  );
}
