/** A number card that somebody held against this rider's bike: whether it is theirs is asked where they are looked at. */
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { say } from '../stores/said.js';

const WORDS = SHEET_WORDS.rider;

/** One after another, where there are several. */
export function CardHeld({ view: { cards, rider } }: { readonly view: RiderView }) {
  const [first] = cards;
  if (first === undefined) return null;
  const { card, holder, person, frame, point, picture } = first;
  const whose = holder === null ? `card ${card}` : `card ${card}, ${holder}`;
  const tie = () =>
    void say(`${rider.code} goes with ${whose}`, [
      { kind: 'rider-is', point, person },
      { kind: 'card-answered', frame, is: 'taken' },
    ]);
  const forget = () => void say(`Card ${card} is of no bike here`, [{ kind: 'card-answered', frame, is: 'not-taken' }]);
  return (
    <section className="part is-this-one">
      <h2>
        Number card {card} <span className="aside">{holder ?? 'nobody’s name is known'}</span>
      </h2>
      <Picture picture={picture} alt={`The bike that card ${card} was held against`} />
      <div className="acts">
        <Act
          words={WORDS.cardIsTheirs}
          run={tie}
          consequence="All of its pictures go with it. The contact stays apart and can be erased."
        />
        <Act words={WORDS.notTheirCard} run={forget} />
      </div>
    </section>
  );
}
