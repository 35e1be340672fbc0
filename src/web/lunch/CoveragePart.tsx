/** Coverage of each group from each spot: its riders as a bar of good, unsure, missed and still to come. */
import type { GroupLunchView, GroupSpotView } from '../../server/lunch/types.js';
import { GroupLetter } from '../marks/Marks.js';
import { Voice } from '../marks/Voices.js';

export function CoveragePart({ groups }: { readonly groups: readonly GroupLunchView[] }) {
  const shown = groups.filter(({ riders, group }) => riders > 0 || group !== null);
  return (
    <section className="part coverage-part">
      <h2>
        Seen from where <span className="aside">riders with a good frame, by group and spot</span>
      </h2>
      {shown.length === 0 && <p className="note">No rider is in the pictures yet.</p>}
      {shown.map((group) => (
        <GroupRow key={group.group?.key ?? '-'} group={group} />
      ))}
      {shown.length > 0 && <CoverageKey />}
    </section>
  );
}

function GroupRow({ group }: { readonly group: GroupLunchView }) {
  const name = group.group?.name ?? 'Group not known';
  const most = Math.max(0, ...group.spots.map(({ good }) => good));
  const seen = group.spots.filter(({ toCome }) => toCome < group.riders);
  const least = Math.min(...seen.map(({ good }) => good));
  return (
    <div className="coverage-row">
      <h3>
        {group.group && <GroupLetter group={group.group} />} {name}{' '}
        <span>
          {group.riders} {group.riders === 1 ? 'rider' : 'riders'},{' '}
          {group.thin.length === 0 ? 'none' : group.thin.length} thin, {group.riders - group.enough} short of enough
        </span>
        {group.lap && (
          <span className="lap">
            lap <Voice spoken={group.lap} />
          </span>
        )}
      </h3>
      <dl className="coverage-spots">
        {group.spots.map((spot) => (
          <div key={spot.spot.id}>
            <dt>
              <b>{spot.spot.number}</b> {spot.spot.name}
            </dt>
            <dd>
              <SpotBar
                spot={spot}
                riders={group.riders}
                isLeast={least < most && spot.good === least && isSeen(spot, group)}
              />
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

const isSeen = ({ toCome }: GroupSpotView, { riders }: GroupLunchView): boolean => toCome < riders;

function SpotBar({
  spot,
  riders,
  isLeast,
}: {
  readonly spot: GroupSpotView;
  readonly riders: number;
  readonly isLeast: boolean;
}) {
  if (riders === 0 || spot.toCome === riders) return <span className="to-come">to come</span>;
  const states = [
    ['good', spot.good, 'with a good frame'],
    ['unsure', spot.unsure, 'with none sure to be good'],
    ['missed', spot.missed, 'missed'],
    ['to-come', spot.toCome, 'to come'],
  ] as const;
  const told = states.filter(([, count]) => count > 0);
  return (
    <>
      <span className={`figure${isLeast ? ' lowest' : ''}`}>
        {spot.good}
        <small> of {riders}</small>
      </span>
      <span
        className="state-bar"
        role="img"
        aria-label={told.map(([, count, words]) => `${count} ${words}`).join(', ')}
      >
        {told.map(([state, count]) => (
          <i key={state} className={state} style={{ flexGrow: count }} />
        ))}
      </span>
      <span className="stood">
        {spot.stood === 0 ? 'nobody stood here' : `${spot.stood} ${spot.stood === 1 ? 'session' : 'sessions'}`}
      </span>
    </>
  );
}

const KEY = [
  ['good', 'good'],
  ['unsure', 'none sure to be good'],
  ['missed', 'stood there and missed'],
  ['to-come', 'to come'],
] as const;

/** A mark and its words stay in one line. */
const CoverageKey = () => (
  <p className="coverage-key note" aria-hidden="true">
    {KEY.map(([state, words]) => (
      <span key={state} className="coverage-mark">
        <span className="state-bar">
          <i className={state} />
        </span>
        {words}
      </span>
    ))}
  </p>
);
