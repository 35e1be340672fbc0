/** The day as the run sheet has it: stays, the ways between them, and what stands before and after. */
import type { SheetRow, SheetStay } from '../../core/plan/sheet/types.js';
import type { PlanView } from '../../server/planTypes.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';

interface ListProps {
  readonly view: PlanView;
  readonly photographer: number;
}

export function DayList({ view, photographer }: ListProps) {
  const sheet = view.sheets[photographer] ?? view.sheets[0];
  if (sheet === undefined) return null;
  return (
    <>
      {sheet.warnings.map((sentence) => (
        <p className="to-mind" key={sentence}>
          {sentence}
        </p>
      ))}
      <table className="run">
        <caption className="sr">The day, stay by stay</caption>
        <tbody>
          {sheet.rows.map((row, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows have no name of their own and stand in their order
            <Row key={`${i} ${row.kind}`} row={row} view={view} />
          ))}
        </tbody>
      </table>
      {view.lost.length > 0 && <p className="note">{lostWords(view.lost)}</p>}
    </>
  );
}

function Row({ row, view }: { readonly row: SheetRow; readonly view: PlanView }) {
  switch (row.kind) {
    case 'line':
      return (
        <tr>
          <td className="figure">{row.at === null ? '' : clockOf(row.at)}</td>
          <td colSpan={3}>{row.words}</td>
        </tr>
      );
    case 'way':
      return (
        <tr className="way">
          <td />
          <td colSpan={3}>{row.words}</td>
        </tr>
      );
    case 'stay':
      return <StayRow stay={row} view={view} />;
  }
}

function StayRow({ stay, view }: { readonly stay: SheetStay; readonly view: PlanView }) {
  const place = (
    <>
      <b>{stay.spot.number}</b> {stay.spot.name}
    </>
  );
  const shutters = [
    stay.sure === null ? null : `sure 1/${stay.sure}`,
    stay.slow === null ? null : `down to 1/${stay.slow}`,
  ];
  const words = [stay.light, stay.lens, ...shutters, ...stay.notes].filter((part) => part !== null && part !== '');
  return (
    <tr className="stay">
      <td className="figure">
        {clockOf(stay.from)}–{clockOf(stay.to)}
      </td>
      <td className="place">{stay.isSaid ? <Initialled text={place} initials={view.initials} /> : place}</td>
      <td className="of">
        {stay.sessions.map(({ name, group, isWhole }) => (
          <span
            key={name}
            className="group-letter"
            data-tint={view.groups.find(({ key }) => key === group)?.tint}
            title={isWhole ? undefined : 'in part'}
          >
            {name}
            {!isWhole && <span className="part-mark">·</span>}
          </span>
        ))}
      </td>
      <td className="light">
        {words.join(', ')}
        {stay.cautions.map((caution) => (
          <span className="caution" key={caution}>
            {caution}
          </span>
        ))}
      </td>
    </tr>
  );
}

function lostWords(lost: PlanView['lost']): string {
  const words = lost.map(({ group, minutes }) => `${group.name} ${minutes} min`);
  return `Ways and rests cost ${words.join(', ')} of sessions.`;
}
