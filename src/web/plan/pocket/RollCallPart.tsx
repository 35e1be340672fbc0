/** The roll of a stretch in which one walked along standing bikes: how many, one look of each, and the head count by a person's word. */
import { useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { GroupKeyView, StretchView } from '../../../server/types.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { Picture } from '../../marks/Marks.js';
import { say } from '../../stores/said.js';
import { rollCallQuery } from './pocketApi.js';

const WORDS = SHEET_WORDS.day;

export interface RollCallPartProps {
  readonly stretch: Pick<StretchView, 'from' | 'to'>;
  readonly groups: readonly GroupKeyView[];
}

export function RollCallPart({ stretch, groups }: RollCallPartProps) {
  const [group, setGroup] = useState(groups[0]?.key ?? '');
  const [isCalled, setCalled] = useState(false);
  if (groups.length === 0) return null;
  return (
    <section className="part ask roll-call">
      <h2>Roll call</h2>
      <p className="note">
        Where you walked along bikes that stood at the noise test or in the holding area, they can be counted.
      </p>
      <p className="fields">
        <label htmlFor="roll-group">Group</label>
        <select id="roll-group" value={group} onChange={(event) => setGroup(event.target.value)}>
          {groups.map(({ key, name }) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </p>
      {isCalled ? (
        <Called stretch={stretch} group={group} />
      ) : (
        <Act words={WORDS.callRoll} run={() => setCalled(true)} consequence="Counts only; nothing is said by it." />
      )}
    </section>
  );
}

function Called({
  stretch: { from, to },
  group,
}: {
  readonly stretch: RollCallPartProps['stretch'];
  readonly group: string;
}) {
  const { data, error } = useQuery(rollCallQuery(from, to, group));
  const [text, setText] = useState<string | null>(null);
  if (error) return <p className="wrongs">{error.message}</p>;
  if (!data) return <p className="note">Counting.</p>;
  // Where it is not sure the person counts: no figure is put into their mouth.
  const written = text ?? (data.least === data.most && data.most > 0 ? String(data.most) : '');
  const riders = /^\d{1,3}$/.test(written) ? Number(written) : null;
  return (
    <>
      <p className={data.least === data.most ? 'lead' : 'lead pencil-words'}>{data.sentence}</p>
      <ul className="tiles looks">
        {data.looks.map(({ picture, subject, rider }) => (
          <li key={`${picture.frameId} ${subject}`}>
            <Link to="/riders" search={{ of: picture.frameId, bike: subject }}>
              <Picture picture={picture} alt="" />
              <span>{rider === null ? 'in nobody’s set' : `${rider.words}, ${rider.code}`}</span>
            </Link>
          </li>
        ))}
      </ul>
      <p className="fields">
        <label htmlFor="roll-riders">Riders of {data.group.name}</label>
        <input
          id="roll-riders"
          inputMode="numeric"
          size={4}
          autoComplete="off"
          value={written}
          onChange={(event) => setText(event.target.value)}
        />
      </p>
      <Act
        words={WORDS.headCount}
        kind="main"
        isOff={riders === null}
        why="Write how many there are."
        run={() =>
          riders !== null &&
          void say(`${riders} riders of ${data.group.name} by the roll call`, [
            { kind: 'head-count', at: data.from, group: data.group.key, riders },
          ])
        }
        consequence="Who is still unseen is reckoned by it from now on."
      />
    </>
  );
}
