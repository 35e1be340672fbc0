/** Hit rate by the hour, and under it how far bikes lost sharpness as the day warmed. */
import type { RatesView, ShimmerView } from '../../server/review/types.js';
import { Evidence } from '../lunch/Evidence.js';
import { RateRows } from './RatesPart.js';

export function HourPart({
  byHour,
  shimmer,
}: {
  readonly byHour: RatesView;
  readonly shimmer: readonly ShimmerView[];
}) {
  return (
    <section className="part hour-part">
      <h2>{byHour.title}</h2>
      <RateRows rows={byHour.rows} of="by the hour" />
      {byHour.without && <p className="note">{byHour.without}</p>}
      <h3>
        Heat shimmer <span>sharpness of far bikes against the first hour; dashed: of near ones</span>
      </h3>
      {shimmer.length === 0 ? (
        <p className="note">Too few far bikes over too few hours to tell of shimmer.</p>
      ) : (
        shimmer.map((trend) => (
          <div key={trend.sentence}>
            <Fan trend={trend} />
            <p className="axis-words" aria-hidden="true">
              <span>{trend.first}</span> <span>{trend.last}</span>
            </p>
            <p className="note">
              {trend.sentence} <Evidence pictures={trend.evidence} of="far bikes, early and late" />
            </p>
          </div>
        ))
      )}
    </section>
  );
}

const WIDTH = 300;
const HEIGHT = 72;
const STEPS = 12;
/** Sharpness against the first hour's, at the top and at the foot of the drawing. */
const MOST = 1.5;

/** The trend with its range, opening from the first hour; dashed: of near bikes. */
function Fan({ trend: { far, near, hours } }: { readonly trend: ShimmerView }) {
  const at = (anHour: number) =>
    Array.from({ length: STEPS + 1 }, (_, i) => {
      const share = i / STEPS;
      const sharpness = Math.min(MOST, anHour ** (share * hours));
      return `${(share * WIDTH).toFixed(1)} ${(HEIGHT * (1 - sharpness / MOST)).toFixed(1)}`;
    });
  const level = HEIGHT * (1 - 1 / MOST);
  return (
    <svg className="shimmer-fan" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      <path className="axis" d={`M0 ${HEIGHT}H${WIDTH}M0 0V${HEIGHT}M0 ${level}H${WIDTH}`} />
      <path className="fan" d={`M${at(far.from).join('L')}L${at(far.to).reverse().join('L')}Z`} />
      {near && <path className="near" d={`M${at(near.factor).join('L')}`} />}
      <path className="far" d={`M${at(far.factor).join('L')}`} />
    </svg>
  );
}
