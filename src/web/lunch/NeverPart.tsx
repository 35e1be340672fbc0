/** Riders whom no picture shows: ranges with their reasons, and the entry list's. */
import type { GroupLunchView, LunchSheetView } from '../../server/lunch/types.js';
import { GroupLetter } from '../marks/Marks.js';
import { Absent, Pencilled } from '../marks/Voices.js';

export function NeverPart({ view }: { readonly view: LunchSheetView }) {
  const groups = view.groups.filter(({ group }) => group !== null);
  return (
    <section className="part never-part">
      <h2>
        In no frame yet <span className="aside">a range each; it holds in 95 of 100</span>
      </h2>
      {groups.length === 0 ? (
        <p className="note">No group is known, so nothing can be said of riders whom no picture shows.</p>
      ) : (
        <ul className="rows">
          {groups.map((group) => (
            <li key={group.group?.key}>
              {group.group && <GroupLetter group={group.group} />} {group.group?.name}: <Range of={group} />
            </li>
          ))}
        </ul>
      )}
      {view.neverSeen === null ? (
        <p className="note">
          <Absent>no entry list</Absent> With one, those whom no picture shows stand here by number.
        </p>
      ) : view.neverSeen.length === 0 ? (
        <p className="note">Everybody on the entry list with a number is in a picture.</p>
      ) : (
        <>
          <p className="sub">
            <b>{view.neverSeen.length}</b> of the entry list
          </p>
          <ul className="rows">
            {view.neverSeen.map(({ number, words }) => (
              <li key={`${number}-${words}`}>
                {words} {number !== null && <span className="plate small">{number}</span>}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function Range({ of: { neverShown } }: { readonly of: GroupLunchView }) {
  if (neverShown?.voice !== 'pencilled') return <Absent>too little is seen to say</Absent>;
  return <Pencilled {...neverShown} />;
}
