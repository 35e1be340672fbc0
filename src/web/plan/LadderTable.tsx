/** Shutters of a spot, group beside group: the streak of each, sure or slow. */
import type { Rung, Speed } from '../../core/plan/settings/types.js';
import type { LadderView } from '../../server/planTypes.js';
import { GroupLetter } from '../marks/Marks.js';
import { Absent, Initialled } from '../marks/Voices.js';
import { streakWords } from './ladderWords.js';
import { MARK_PX, StreakMark } from './StreakMark.js';

export function LadderTable({ view, initials }: { readonly view: LadderView; readonly initials: string }) {
  return (
    <table className="ladder">
      <caption className="sr">Streak by shutter and group</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="sr">Shutter</span>
          </th>
          {view.columns.map(({ group, speed }) => (
            <th scope="col" key={group.key}>
              <GroupLetter group={group} /> <span className="sr">{group.name}</span>
              <SpeedWords speed={speed} initials={initials} />
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {view.rows.map(({ shutter, cells }) => (
          <tr key={shutter}>
            <th scope="row">{shutter}</th>
            {cells.map((cell) => (
              <Cell key={cell.group} cell={cell} view={view} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Speeds keep their voice: a person's word, a measurement, a guess with its reasons one step away. */
function SpeedWords({ speed, initials }: { readonly speed: Speed; readonly initials: string }) {
  switch (speed.kind) {
    case 'said':
      return <Initialled text={`${Math.round(speed.kmh)} km/h`} initials={initials} />;
    case 'measured':
      return (
        <span className="printed">
          {Math.round(speed.kmh)} km/h <span className="note">{speed.from}</span>
        </span>
      );
    case 'guessed':
      return (
        <details className="speed">
          <summary className="guessed">
            {Math.round(speed.kmh[0])}–{Math.round(speed.kmh[1])} km/h
          </summary>
          {speed.reasons.map((reason) => (
            <span key={reason}>{reason}</span>
          ))}
        </details>
      );
    case 'unknown':
      return <Absent>speed not known</Absent>;
  }
}

type LadderCell = Rung & { readonly group: string };

function Cell({ cell, view }: { readonly cell: LadderCell; readonly view: LadderView }) {
  const column = view.columns.find(({ group }) => group.key === cell.group);
  const isLast = column?.start === cell.shutter;
  return (
    <td className={`${cell.kind}${isLast ? ' last' : ''}`}>
      {cell.streak === null ? (
        <span className="figure">{cell.kind === 'too-slow' ? '' : cell.kind}</span>
      ) : (
        <>
          <span className="figure">{streakWords(cell.streak)}</span>
          <StreakMark kind={cell.kind} length={((cell.streak[0] + cell.streak[1]) / 2) * MARK_PX} />
        </>
      )}
      <span className="sr">, {cell.kind === 'too-slow' ? 'too slow' : cell.kind}</span>
    </td>
  );
}
