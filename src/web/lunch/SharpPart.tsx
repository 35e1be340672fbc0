/** How low the shutter went and what came out sharp, by spot and group: a share with its range. */
import { useState } from 'react';
import type { SharpView } from '../../server/lunch/types.js';
import { GroupLetter } from '../marks/Marks.js';
import { Evidence } from './Evidence.js';

/** What fits beside the dust. */
const SHOWN_FIRST = 12;

export function SharpPart({ rows }: { readonly rows: readonly SharpView[] }) {
  const [isWhole, setWhole] = useState(false);
  const shown = isWhole ? rows : rows.slice(-SHOWN_FIRST);
  return (
    <div className="sharp-part">
      <h3>
        Sharp by shutter <span>the range holds in 95 of 100</span>
      </h3>
      {rows.length === 0 ? (
        <p className="note">Five frames of one shutter, spot and group are the least to say anything.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">shutter</th>
              <th scope="col">group</th>
              <th scope="col">lens, spot</th>
              <th scope="col">sharp</th>
              <th scope="col" className="range-head">
                <span>0</span> <span>50</span> <span>100 %</span>
              </th>
              <th scope="col">
                <span className="sr">soft ones</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {shown.map((row) => (
              <Row key={`${row.shutter}-${row.where}-${row.group?.key}`} row={row} />
            ))}
          </tbody>
        </table>
      )}
      {rows.length > SHOWN_FIRST && (
        <button type="button" className="word not-on-paper" aria-expanded={isWhole} onClick={() => setWhole(!isWhole)}>
          {isWhole ? 'the slowest only' : `all ${rows.length}, quickest first`}
        </button>
      )}
    </div>
  );
}

const percent = (share: number): number => Math.round(100 * share);

function Row({ row }: { readonly row: SharpView }) {
  const { shutter, where, group, sharp, frames, share, from, to, evidence } = row;
  return (
    <tr>
      <th scope="row" className="figure">
        {shutter}
      </th>
      <td>
        {group ? (
          <>
            <GroupLetter group={group} />
            <span className="sr"> {group.name}</span>
          </>
        ) : (
          'not known'
        )}
      </td>
      <td className="where">{where}</td>
      <td className="figure">
        {sharp} of {frames}
      </td>
      <td className="range-cell">
        <svg width="100%" height="14" viewBox="0 0 100 14" preserveAspectRatio="none" aria-hidden="true">
          <path className="axis" d="M0 3V11M50 5V9M100 3V11" />
          <path className="range" d={`M${100 * from} 7H${100 * to}`} />
          <path className="middle" d={`M${100 * share} 2V12`} />
        </svg>
        <span className="sr">
          {percent(from)} to {percent(to)} of 100 to be expected
        </span>
      </td>
      <td>
        <Evidence pictures={evidence} of={`soft at ${shutter}, ${where}${group ? `, ${group.name}` : ''}`} />
      </td>
    </tr>
  );
}
