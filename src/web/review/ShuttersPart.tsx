/** Hit rate against shutter: a panel a spot, quickest first, so that one sees down to where it still held. */
import type { SpotRatesView } from '../../server/review/types.js';
import { RateRows } from './RatesPart.js';

interface ShuttersProps {
  readonly panels: readonly SpotRatesView[];
  readonly without: string | null;
}

export function ShuttersPart({ panels, without }: ShuttersProps) {
  return (
    <section className="part shutters-part">
      <h2>
        Sharp and whole by shutter{' '}
        <span className="aside">a dot with its range; open: few passes; quickest first at each spot</span>
      </h2>
      {panels.length === 0 ? (
        <p className="note">Of no bike both the spot and the shutter are known.</p>
      ) : (
        <div className="shutter-panels">
          {panels.map(({ spot, rows }) => (
            <div key={spot}>
              <h3>{spot}</h3>
              <RateRows rows={rows} of={spot} />
            </div>
          ))}
        </div>
      )}
      {without && <p className="note">{without}</p>}
    </section>
  );
}
