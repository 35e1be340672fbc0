/** A place on a sensor as the frames show it, ringed. */
import type { DustSpotView } from '../../server/lunch/types.js';

const MOST_SHOWN = 3;

export function SpotPictures({ spot }: { readonly spot: DustSpotView }) {
  const { sentence, x, y, acrossPx, frames } = spot;
  return (
    <figure className="dust-spot">
      <div>
        {frames.slice(0, MOST_SHOWN).map((frame, i) => (
          <span key={frame} className="dust-piece">
            <img
              src={`/pictures/${frame}/spot?x=${x}&y=${y}&across=${acrossPx}`}
              alt={`${i + 1}. frame with the spot in its middle`}
              loading="lazy"
              decoding="async"
              draggable={false}
            />
            <i aria-hidden="true" />
          </span>
        ))}
        <SensorMark x={x} y={y} />
      </div>
      <figcaption>{sentence} Light and dark are drawn apart in these pieces.</figcaption>
    </figure>
  );
}

/** Where on the picture as recorded. */
const SensorMark = ({ x, y }: { readonly x: number; readonly y: number }) => (
  <svg className="sensor-mark" width="96" height="64" viewBox="0 0 96 64" aria-hidden="true">
    <rect x=".5" y=".5" width="95" height="63" />
    <circle cx={96 * x} cy={64 * y} r="3" />
  </svg>
);
