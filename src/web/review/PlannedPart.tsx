/** The plan taken against where one stood, session by session. */
import type { PlannedView } from '../../server/review/types.js';
import { GroupLetter } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';

export function PlannedPart({ rows }: { readonly rows: readonly PlannedView[] | null }) {
  return (
    <section className="part planned-part">
      <h2>The plan and the day</h2>
      {rows === null ? (
        <p className="note">
          <Absent>no plan was taken</Absent> With one, it stands here beside where you stood.
        </p>
      ) : rows.length === 0 ? (
        <p className="note">Neither a planned session nor one that was stood at is known.</p>
      ) : (
        <table className="planned-table">
          <thead>
            <tr>
              <th scope="col">session</th>
              <th scope="col">planned</th>
              <th scope="col">stood</th>
              <th scope="col">sharp, whole</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Row key={row.session} row={row} />
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function Row({ row }: { readonly row: PlannedView }) {
  const { session, group, planned, stood, went, is, hits, moved } = row;
  return (
    <tr className={is}>
      <th scope="row">
        {group && <GroupLetter group={group} />} {session}
        {moved && <span className="moved">{moved}</span>}
      </th>
      <td>{planned.length === 0 ? 'not planned' : planned.join(' and ')}</td>
      <td>{is === 'as-planned' || is === 'not-gone' ? went : stood.join(' and ')}</td>
      <td className="figure">{stood.length === 0 ? 'no frames' : hits}</td>
    </tr>
  );
}
