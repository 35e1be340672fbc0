/** What all questions share, and the short ones: a pair, a border. */
import type { Decision } from '../../core/log/types.js';
import type { QuestionView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Absent, Gauge } from '../marks/Voices.js';
import { RiderMarks } from './RiderTile.js';

const WORDS = SHEET_WORDS.questions;

export type Of<K extends QuestionView['kind']> = Extract<QuestionView, { kind: K }>;
export interface Asked<K extends QuestionView['kind']> {
  readonly question: Of<K>;
  /** Says it; the next question stands here at once. */
  readonly answer: (text: string, decisions: readonly Decision[]) => void;
  readonly later: () => void;
}

export const Later = ({ later }: { readonly later: () => void }) => (
  <Act words={WORDS.later} kind="box" run={later} consequence="Asked again when it matters." />
);

/** An answer like any other: written down, and not asked again. */
export const CantTell = ({ say }: { readonly say: () => void }) => (
  <Act words={WORDS.cantTell} kind="box" run={say} consequence="Nothing changes, and it is not asked again." />
);

export const Reasons = ({ reasons }: { readonly reasons: readonly string[] }) => (
  <ul className="rows reasons-list">
    {reasons.map((reason) => (
      <li key={reason} className="pencil-words">
        {reason}
      </li>
    ))}
  </ul>
);

/** A pair, when only two are left. */
export function PairQuestion({ question, answer, later }: Asked<'pair'>) {
  const points = question.sides.map((side) => side.point);
  const codes = question.sides.map((side) => side.rider.code).join(' and ');
  return (
    <>
      <div className="pair">
        {question.sides.map((side) => (
          <section key={side.rider.key} className="part">
            <h2>
              {side.rider.code} <span className="aside">{side.where}</span>
            </h2>
            <Picture picture={side.picture} alt={side.rider.livery.words} />
            <RiderMarks rider={side.rider} />
          </section>
        ))}
      </div>
      <p className="sub">
        <span className="pencilled">
          one rider <Gauge confidence={question.confidence} />
        </span>
      </p>
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        <Act
          words={WORDS.join}
          kind="box"
          run={() => answer(`${codes} are one rider`, [{ kind: 'same-rider', points }])}
          consequence={question.join}
        />
        <Act
          words={WORDS.apart}
          kind="box"
          run={() => answer(`${codes} are two riders`, [{ kind: 'different-riders', points }])}
          consequence={question.apart}
        />
        <CantTell
          say={() =>
            answer(`Can’t tell whether ${codes} are one rider`, [
              {
                kind: 'line-up',
                of: question.sides[0].point,
                shown: [question.sides[1].point],
                chosen: [],
                unsure: [0],
              },
            ])
          }
        />
        <Later later={later} />
      </div>
    </>
  );
}

export function BorderQuestion({ question, answer, later }: Asked<'border'>) {
  return (
    <>
      <div className="pair">
        {(
          [
            ['last before', question.before],
            ['first after', question.after],
          ] as const
        ).map(([words, picture]) => (
          <section key={words} className="part">
            <h2>{words}</h2>
            {picture ? <Picture picture={picture} alt="" isWhole /> : <Absent>no frame</Absent>}
          </section>
        ))}
      </div>
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        <Act
          words={WORDS.border}
          kind="box"
          run={() =>
            answer(`A session begins at ${clockOf(question.at)}`, [{ kind: 'boundary', at: question.at, is: 'here' }])
          }
          consequence="A session ends here and the next begins."
        />
        <Act
          words={WORDS.runsOn}
          kind="box"
          run={() =>
            answer(`No border at ${clockOf(question.at)}`, [{ kind: 'boundary', at: question.at, is: 'not-here' }])
          }
          consequence="Both sides are one session."
        />
        <Later later={later} />
      </div>
    </>
  );
}
