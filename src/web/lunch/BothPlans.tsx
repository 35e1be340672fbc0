/** Two afternoons side by side, stretch by stretch; what differs is marked by shape and word. */
import type { CompareView, DifferenceView, SpotRef } from '../../server/lunch/types.js';
import { clockOf } from '../line/lineGeometry.js';
import { GroupLetter } from '../marks/Marks.js';

const WORDS: Readonly<Record<DifferenceView['kind'], string>> = {
  same: 'as before',
  changed: 'moved',
  'only-found': 'added',
  'only-kept': 'dropped',
};

export function BothPlans({ compare, isTaken }: { readonly compare: CompareView; readonly isTaken: boolean }) {
  return (
    <table className="both-plans">
      <caption className="sr">The afternoon you have and the one found</caption>
      <thead>
        <tr>
          <th scope="col">session</th>
          {compare.kept && (
            <>
              <th scope="col">{isTaken ? 'before' : 'yours'}</th>
              <th scope="col">
                <span className="sr">difference</span>
              </th>
            </>
          )}
          <th scope="col">{isTaken ? 'now yours' : 'found'}</th>
        </tr>
      </thead>
      <tbody>
        {compare.rows.map((row) => (
          <Row
            key={`${row.photographer}-${row.stretch}`}
            row={row}
            of={compare.photographers}
            hasKept={compare.kept !== null}
          />
        ))}
      </tbody>
    </table>
  );
}

interface RowProps {
  readonly row: DifferenceView;
  readonly of: number;
  readonly hasKept: boolean;
}

function Row({ row, of, hasKept }: RowProps) {
  const { kind, stretch, group, from, to, kept, found, reason, photographer } = row;
  return (
    <tr className={kind}>
      <th scope="row">
        {group && <GroupLetter group={group} />} {stretch}
        <span>
          {clockOf(from)}–{clockOf(to)}
          {of > 1 && `, photographer ${photographer + 1}`}
        </span>
      </th>
      {hasKept && (
        <>
          <td>
            <Place spot={kept} isAbsent={kind === 'only-found'} />
          </td>
          <td className="difference">
            <DifferenceMark kind={kind} /> {WORDS[kind]}
          </td>
        </>
      )}
      <td>
        <Place spot={found} isAbsent={kind === 'only-kept'} />
        <span className="reason">{reason}</span>
      </td>
    </tr>
  );
}

function Place({ spot, isAbsent }: { readonly spot: SpotRef | null; readonly isAbsent: boolean }) {
  if (isAbsent) return <span className="nowhere">nowhere</span>;
  if (spot === null) return <span className="nowhere">on the way or resting</span>;
  return (
    <span className="place">
      <b>{spot.number}</b> {spot.name}
    </span>
  );
}

/** Two lines alike; an arrow to another place; a cross that adds; a bar that takes away. */
function DifferenceMark({ kind }: { readonly kind: DifferenceView['kind'] }) {
  const path = {
    same: 'M1 4.5H13M1 8.5H13',
    changed: 'M0 5H7V1.5L14 6.5L7 11.5V8H0Z',
    'only-found': 'M5.5 1H8.5V5H12.5V8H8.5V12H5.5V8H1.5V5H5.5Z',
    'only-kept': 'M1 5H13V8H1Z',
  }[kind];
  return (
    <svg className={`difference-mark ${kind}`} width="14" height="13" viewBox="0 0 14 13" aria-hidden="true">
      <path d={path} />
    </svg>
  );
}
