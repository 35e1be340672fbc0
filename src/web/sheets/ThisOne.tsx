/** The bike that is asked about; where it is nobody's yet, the marked rider can be given it. */
import { Link, useNavigate } from '@tanstack/react-router';
import type { FoundRiderView, LikeliestView, LikelyRiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { say } from '../stores/said.js';

const WORDS = SHEET_WORDS.riders;

export interface ThisOneProps {
  readonly one: LikeliestView;
  /** The rider who is marked to be given it. */
  readonly chosen: { readonly found: FoundRiderView; readonly fit: LikelyRiderView | null } | null;
  /** In whose set it is. */
  readonly owner: FoundRiderView | null;
}

export function ThisOne({ one, chosen, owner }: ThisOneProps) {
  const navigate = useNavigate();
  const point = one.point;
  const to = chosen?.fit?.point ?? null;
  const join = () => {
    if (!point || !to || !chosen) return;
    const { rider } = chosen.found;
    void say(`${one.name} joined to ${rider.livery.words}, ${rider.code}`, [
      { kind: 'same-rider', points: [point, to] },
    ]).then((isSaid) => {
      if (isSaid)
        void navigate({ to: '/riders/$key', params: { key: rider.key }, search: { frame: one.picture.frameId } });
    });
  };
  return (
    <aside className="this-one part">
      <h2>
        This one <span className="aside">{one.where}</span>
      </h2>
      <Picture picture={one.picture} alt="The bike that is asked about" />
      <p className="note">
        {one.name}
        {one.wall === null ? <Absent>no time</Absent> : `, ${clockWithTenthsOf(one.wall)}`}
      </p>
      {one.besides.map(({ subject, picture }) => (
        <Link key={subject} to="/riders" search={{ of: picture.frameId, bike: subject }} className="besides">
          <Picture picture={picture} alt="" />
          <span className="note">another bike of this frame</span>
        </Link>
      ))}
      {one.isUnplaced && chosen && (
        <p className="note">
          <RiderLink found={chosen.found} before="See the day of " />
        </p>
      )}
      {one.isUnplaced && (
        <div className="acts boxes">
          <Act
            words={WORDS.join}
            kind="box"
            run={join}
            isOff={!point || !to}
            why="No rider is marked."
            consequence={chosen && `It goes with ${chosen.found.rider.livery.words}, ${chosen.found.rider.code}.`}
          />
        </div>
      )}
      {!one.isUnplaced && owner && (
        <p className="note">
          It stands in the set of <RiderLink found={owner} frame={one.picture.frameId} />. If it is somebody else’s,
          join it to them there.
        </p>
      )}
    </aside>
  );
}

interface RiderLinkProps {
  readonly found: FoundRiderView;
  readonly before?: string;
  readonly frame?: string;
}

const RiderLink = ({ found: { rider }, before = '', frame = rider.face.frameId }: RiderLinkProps) => (
  <Link to="/riders/$key" params={{ key: rider.key }} search={{ frame }}>
    {before}
    {rider.livery.words}, {rider.code}
  </Link>
);
