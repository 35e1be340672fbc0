/** Keepers for the minutes spent at each spot: a dot with its range, on one scale. */
import type { YieldView } from '../../server/review/types.js';
import { Absent, Voice } from '../marks/Voices.js';
import { RangeMark } from './RangeMark.js';

export function YieldPart({ spots }: { readonly spots: readonly YieldView[] }) {
  const most = Math.max(0, ...spots.map(({ aMinute }) => aMinute?.to ?? 0));
  return (
    <section className="part yield-part">
      <h2>
        Keepers a minute <span className="aside">of track time at the spot</span>
      </h2>
      {spots.length === 0 ? (
        <p className="note">Where anybody stood is not known.</p>
      ) : (
        <ul className="rate-rows">
          <li className="rate-axis" aria-hidden="true">
            <span />
            <span className="axis-words">
              <span>0</span> <span>{(most / 2).toFixed(1)}</span> <span>{most.toFixed(1)}</span>
            </span>
          </li>
          {spots.map((spot) => (
            <Row key={spot.spot} spot={spot} most={most} />
          ))}
        </ul>
      )}
    </section>
  );
}

function Row({ spot: { spot, words, minutes, aMinute }, most }: { readonly spot: YieldView; readonly most: number }) {
  return (
    <li>
      <span className="rate-label">{spot}</span>
      {aMinute === null ? (
        <span className="rate-range">
          <Absent>too short to say</Absent>
        </span>
      ) : (
        <>
          <span className="rate-range">
            <RangeMark
              marks={[{ at: aMinute.rate / most, from: aMinute.from / most, to: aMinute.to / most, isFew: false }]}
            />
          </span>
          <span className="rate-count">
            <span className="figure">{aMinute.rate.toFixed(1)}</span>{' '}
            <span className="sr">keepers a minute, range </span>({aMinute.from.toFixed(1)}–{aMinute.to.toFixed(1)})
          </span>
        </>
      )}
      <span className="row-note">
        {words}, <Voice spoken={minutes} />
      </span>
    </li>
  );
}
