/** Passes in nobody's set: wrong is worse than unsure. */
import { Link } from '@tanstack/react-router';
import { type ReactNode, useState } from 'react';
import type { RidersView, UnplacedPassView } from '../../server/types.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';

/** As many as stand in a row of a wide screen: the riders below must stay in sight. */
const MOST_UNPLACED = 12;

export function UnplacedPart({ view }: { readonly view: RidersView }) {
  const [isOpen, setOpen] = useState(false);
  if (view.unplaced.length === 0) return null;
  const shown = isOpen ? view.unplaced : view.unplaced.slice(0, MOST_UNPLACED);
  return (
    <section className="part unplaced">
      <h2>
        Not placed yet <span className="aside">in nobody’s set until you say whose</span>
      </h2>
      <ul className="tiles">
        {shown.map((pass) => (
          <UnplacedTile key={`${pass.frameId} ${pass.subject}`} pass={pass} />
        ))}
      </ul>
      {view.unplaced.length > MOST_UNPLACED && (
        <button type="button" className="word" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? 'fold them' : `show the other ${view.unplaced.length - MOST_UNPLACED}`}
        </button>
      )}
    </section>
  );
}

export interface UnplacedTileProps {
  readonly pass: UnplacedPassView;
  readonly children?: ReactNode;
}

/** Leads to who it could be. */
export function UnplacedTile({ pass, children }: UnplacedTileProps) {
  return (
    <li className="rider-tile">
      <Link to="/riders" search={{ of: pass.frameId, bike: pass.subject }}>
        <Picture picture={pass.picture} alt="" />
        <span className="pass-line">
          <span className="figure">{clockOf(pass.start)}</span>
          <span>{pass.where}</span>
        </span>
        <span className="note">
          {pass.frames} {pass.frames === 1 ? 'frame' : 'frames'}
        </span>
      </Link>
      {children}
    </li>
  );
}
