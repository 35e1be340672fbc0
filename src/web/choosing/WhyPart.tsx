/** Why the current frame is proposed, and what was second. */
import type { RiderToChooseView } from '../../server/choosing/types.js';
import { Initialled } from '../marks/Voices.js';
import type { Place } from './looking.js';

export interface WhyPartProps {
  readonly view: RiderToChooseView;
  readonly current: Place;
}

export function WhyPart({ view, current }: WhyPartProps) {
  const { frame } = current;
  return (
    <section className="part why-kept">
      <h2>{frame.kept === null ? 'Not in the set' : frame.kept === 'left-out' ? 'Left out' : 'Why this one'}</h2>
      {frame.kept === 'kept-by-person' && (
        <p>
          <Initialled text="You keep it" initials={view.initials} />
        </p>
      )}
      {frame.kept === 'left-out' && (
        <p>
          <Initialled text="You left it out" initials={view.initials} />
        </p>
      )}
      {frame.keptWhy.length > 0 && <p className="pencil-words">{frame.keptWhy.join('; ')}.</p>}
      {frame.second && <p className="pencil-words">{frame.second.words}</p>}
    </section>
  );
}
