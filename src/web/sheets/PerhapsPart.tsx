/** Passes in nobody's set that may be this rider's: shown where they would be missed, joined in one gesture. */
import type { RiderView } from '../../server/types.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { Gauge } from '../marks/Voices.js';
import { say } from '../stores/said.js';
import { UnplacedTile } from './UnplacedPart.js';

type Perhaps = RiderView['perhaps'][number];

export function PerhapsPart({ view, passes }: { readonly view: RiderView; readonly passes: readonly Perhaps[] }) {
  const anchor = view.anchors[0];
  if (passes.length === 0 || !anchor) return null;
  const join = (pass: Perhaps) =>
    void say(`The pass of ${clockWithTenthsOf(pass.start)} joined to ${view.rider.livery.words}, ${view.rider.code}`, [
      { kind: 'same-rider', points: [pass.point, anchor] },
    ]);
  return (
    <section className="part perhaps">
      <h2>
        Perhaps this rider too <span className="aside">in nobody’s set until you say whose</span>
      </h2>
      <ul className="tiles large">
        {passes.map((pass) => (
          <UnplacedTile key={`${pass.frameId} ${pass.subject}`} pass={pass}>
            <span className="fit">
              {pass.standing.kind === 'guessed' && pass.standing.chance !== null && (
                <span className="pencilled">
                  guessed <Gauge confidence={pass.standing.chance} />
                </span>
              )}
              {pass.why && <span className="pencil-words">{pass.why}</span>}
            </span>
            <button type="button" className="word" onClick={() => join(pass)}>
              join it to this rider
            </button>
          </UnplacedTile>
        ))}
      </ul>
    </section>
  );
}
