/** What the ladder rests on, group by group: lens, pan, wheels, and what blurs however good the hand. */
import type { Range, Rung } from '../../core/plan/settings/types.js';
import type { LadderView } from '../../server/planTypes.js';
import { rangeWords } from './ladderWords.js';

type Column = LadderView['columns'][number];

export function LadderFigures({ view }: { readonly view: LadderView }) {
  return (
    <details className="ladder-figures">
      <summary>The figures behind it</summary>
      <table className="noise">
        <caption className="sr">At the sure shutter and at the ladder’s end</caption>
        <thead>
          <tr>
            <th scope="col">Group</th>
            <th scope="col">lens</th>
            <th scope="col">pan</th>
            <th scope="col">wheels turn</th>
            <th scope="col">own blur</th>
            <th scope="col">a hand 1 % off</th>
          </tr>
        </thead>
        <tbody>
          {view.columns.map((column) => (
            <Figures key={column.group.key} column={column} view={view} />
          ))}
        </tbody>
      </table>
      <p className="note">
        From the sure shutter to the ladder’s end. Own blur is of helmet and number while the helmet is followed, in
        pixels of a frame 6,000 wide; without following, the bike blurs{' '}
        {view.columns
          .flatMap(({ group, unfollowedBlurPx }) =>
            unfollowedBlurPx === null ? [] : [`${rangeWords(unfollowedBlurPx, ' px')} (${group.name})`],
          )
          .join(', ') || 'by what nobody knows'}{' '}
        at the sure shutter.
      </p>
    </details>
  );
}

function Figures({ column, view }: { readonly column: Column; readonly view: LadderView }) {
  const { group, focalMm, frameM, panDegPerS } = column;
  return (
    <tr>
      <th scope="row">{group.name}</th>
      <td>
        {focalMm} mm, {frameM.toFixed(1)} m wide
      </td>
      <td className="guessed">{panDegPerS === null ? 'not known' : rangeWords(panDegPerS, ' °/s')}</td>
      {(['wheelDeg', 'ownBlurPx', 'handBlurPx'] as const).map((figure) => (
        <td key={figure} className="guessed">
          {fromStartToEnd(view, column, (rung) => rung[figure], figure === 'wheelDeg' ? '°' : ' px')}
        </td>
      ))}
    </tr>
  );
}

function fromStartToEnd(view: LadderView, column: Column, of: (rung: Rung) => Range | null, unit: string): string {
  const words = [...new Set([column.start, column.end])].map((shutter) => {
    const row = view.rows.find((one) => one.shutter === shutter);
    const rung = row?.cells.find((cell) => cell.group === column.group.key);
    const range = rung === undefined ? null : of(rung);
    return range === null ? 'none' : rangeWords(range, unit);
  });
  return words.join(' to ');
}
