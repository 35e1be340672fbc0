/** Contrary words: about two riders they are settled here, by one letter; about anything else where they were said. */
import type { Decision } from '../../core/log/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { type Asked, Later, type Of } from './QuestionParts.js';

const WORDS = SHEET_WORDS.questions;

export function ContradictionQuestion({ question, answer, later }: Asked<'contradiction'>) {
  const { between } = question;
  if (between !== null) return <BetweenTwo between={between} answer={answer} later={later} />;
  return (
    <>
      <p className="lead">
        It stays as it is until this is settled. Say it again where it was said, or take the last answer back with
        Ctrl+Z.
      </p>
      <div className="acts boxes">
        <Later later={later} />
      </div>
    </>
  );
}

interface BetweenProps extends Pick<Asked<'contradiction'>, 'answer' | 'later'> {
  readonly between: NonNullable<Of<'contradiction'>['between']>;
}

function BetweenTwo({ between, answer, later }: BetweenProps) {
  const { sides, pairs, canBeOne, heldBy } = between;
  const [one, other] = sides.map(({ code }) => code ?? 'a pass in nobody’s set');
  const who = one === other ? `Two pictures of ${one}` : `${one} and ${other}`;
  return (
    <>
      <div className="pair">
        {(
          [
            [heldBy ? 'Found elsewhere' : 'One', sides[0]],
            [heldBy ? 'Settled' : 'The other', sides[1]],
          ] as const
        ).map(([which, side]) => (
          <section key={which} className="part">
            <h2>
              {side.code ?? <Absent>in nobody’s set</Absent>} <span className="aside">{side.where}</span>
            </h2>
            <Picture picture={side.picture} alt={`${which}, ${side.where}`} />
          </section>
        ))}
      </div>
      <div className="acts boxes">
        {heldBy ? (
          <Act
            words={WORDS.keepSettled}
            kind="box"
            run={() => answer(`${one} stays as settled`, [{ kind: 'settled', ...heldBy }])}
            consequence="It stays, and is asked about no more."
          />
        ) : (
          <Act
            words={WORDS.join}
            kind="box"
            run={() => answer(`${who} are one rider`, saidOfAll(pairs, 'same-rider'))}
            isOff={!canBeOne}
            why="They are in one picture."
            consequence="One rider, whatever was said before."
          />
        )}
        <Act
          words={heldBy ? WORDS.giveUp : WORDS.apart}
          kind="box"
          run={() => answer(`${who} are two riders`, saidOfAll(pairs, 'different-riders'))}
          consequence={heldBy ? 'It goes to the rider it fits.' : 'Two riders, whatever was said before.'}
        />
        <Later later={later} />
      </div>
    </>
  );
}

const saidOfAll = (
  pairs: BetweenProps['between']['pairs'],
  kind: 'same-rider' | 'different-riders',
): readonly Decision[] => pairs.map((points) => ({ kind, points }));
