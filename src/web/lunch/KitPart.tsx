/** What the kit did this morning, with the frames that show it. */
import { useQuery } from '@tanstack/react-query';
import type { DustView, KitPartView } from '../../server/lunch/types.js';
import { Absent } from '../marks/Voices.js';
import { Evidence } from './Evidence.js';
import { kitQuery } from './lunchQueries.js';
import { SharpPart } from './SharpPart.js';
import { SpotPictures } from './SpotPictures.js';

export function KitPart() {
  const { data, error } = useQuery(kitQuery);
  return (
    <section className="part kit-part" aria-busy={!data && !error}>
      <h2>
        What the kit did <span className="aside">from this day’s own frames</span>
      </h2>
      {error && <p className="urgent">{error.message}</p>}
      {data && (
        <div className="kit-columns">
          <div>
            <h3>Dust on the sensors</h3>
            {data.dust.length === 0 && <p className="note">No frame is here yet.</p>}
            <ul className="rows">
              {data.dust.map((one) => (
                <Dust key={one.body} dust={one} />
              ))}
            </ul>
            {data.others.map((part) => (
              <Other key={part.title} part={part} />
            ))}
          </div>
          <div>
            {data.howLow.rows.length > 0 && <Other part={data.howLow} />}
            <SharpPart rows={data.sharpness} />
          </div>
        </div>
      )}
    </section>
  );
}

function Dust({ dust: { body, found } }: { readonly dust: DustView }) {
  switch (found.kind) {
    case 'looking':
      return <li>{body}: being looked for in frames of sky and ground.</li>;
    case 'cannot-tell':
      return (
        <li>
          {body}: <Absent>cannot tell</Absent> {found.sentence}
        </li>
      );
    case 'looked':
      if (found.spots.length === 0)
        return (
          <li>
            {body}: none found in {found.frames} frames.
          </li>
        );
      return (
        <li>
          {body}: {found.spots.length === 1 ? 'one place' : `${found.spots.length} places`}.
          {found.spots.map((spot) => (
            <SpotPictures key={`${spot.x}-${spot.y}`} spot={spot} />
          ))}
        </li>
      );
  }
}

const Other = ({ part: { title, rows } }: { readonly part: KitPartView }) => (
  <>
    <h3>{title}</h3>
    <ul className="rows">
      {rows.map(({ sentence, evidence }) => (
        <li key={sentence}>
          {sentence} <Evidence pictures={evidence} of={sentence} />
        </li>
      ))}
    </ul>
  </>
);
