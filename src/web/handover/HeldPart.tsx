/** Frames a person holds back, and those to look at before they are shown: each is answered by one letter. */
import { useState } from 'react';
import type { HeldFrameView } from '../../server/handover/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { say } from '../stores/said.js';

const WORDS = SHEET_WORDS.handOver;
/** The rest waits behind a count. */
const MOST_SHOWN = 12;

export function HeldPart({ held }: { readonly held: readonly HeldFrameView[] }) {
  const [chosen, setChosen] = useState<string | null>(null);
  if (held.length === 0) return null;
  const at = Math.max(
    0,
    held.findIndex(({ frameId }) => frameId === chosen),
  );
  const current = held[at]!;
  const shown = held.slice(at < MOST_SHOWN ? 0 : at - MOST_SHOWN + 1, Math.max(MOST_SHOWN, at + 1));
  const count = held.filter(({ isHeld }) => isHeld).length;
  const step = () => setChosen(held[(at + 1) % held.length]!.frameId);
  return (
    <section className="part held-part">
      <h2>
        Held back: {count.toLocaleString('en-GB')}{' '}
        {held.length > count && <span className="aside">{held.length - count} to look at before they are shown</span>}
      </h2>
      <ul className="held-tiles">
        {shown.map((frame) => (
          <li key={frame.frameId}>
            <button type="button" aria-pressed={frame === current} onClick={() => setChosen(frame.frameId)}>
              <Picture
                picture={frame.picture}
                alt={`${frame.name}, ${frame.isHeld ? 'held back' : 'to look at'}`}
                isWhole
              />
              <span>
                {frame.name} {frame.isHeld ? <b>held back</b> : ''}
              </span>
            </button>
          </li>
        ))}
      </ul>
      {current.why.map((why) => (
        <p key={why} className="pencil-words">
          {why} Perhaps a fall, perhaps a daring line.
        </p>
      ))}
      <div className="acts">
        <Act
          words={WORDS.release}
          run={() => void say(`${current.name} is released`, [{ kind: 'released', file: current.file }])}
          consequence={`${current.name} is shown from the next gallery on.`}
        />
        {!current.isHeld && (
          <Act
            words={WORDS.keepBack}
            run={() => void say(`${current.name} is held back`, [{ kind: 'held', file: current.file }])}
            consequence="Shown nowhere from now on; what is up leaves when the gallery is made and put up again, what is for sale when the order service has its offer."
          />
        )}
        {held.length > 1 && <Act words={WORDS.look} run={step} />}
      </div>
    </section>
  );
}
