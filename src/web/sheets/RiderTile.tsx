/** A rider in little: picture, livery in words and tabs, wheel, plate, code. */
import { Link } from '@tanstack/react-router';
import type { RiderLineView } from '../../server/types.js';
import { Picture, Plate, Tabs } from '../marks/Marks.js';
import { Wheel } from '../marks/Wheel.js';

export function RiderMarks({ rider }: { readonly rider: RiderLineView }) {
  return (
    <span className="rider-marks">
      <span className="livery">
        <Tabs livery={rider.livery} />
        <b>{rider.livery.words}</b>
      </span>
      <span className="who">
        <Wheel arcs={rider.wheel} size={26} />
        {rider.number && <Plate number={rider.number} />}
        <span className="code">{rider.code}</span>
      </span>
    </span>
  );
}

export function RiderTile({ rider }: { readonly rider: RiderLineView }) {
  return (
    <li className="rider-tile">
      <Link to="/riders/$key" params={{ key: rider.key }} search={{ frame: rider.face.frameId }}>
        <Picture picture={rider.face} alt="" />
        <RiderMarks rider={rider} />
      </Link>
    </li>
  );
}

/** Well enough: one line each, no picture. */
export function RiderRow({ rider }: { readonly rider: RiderLineView }) {
  return (
    <li className="rider-row">
      <Link to="/riders/$key" params={{ key: rider.key }} search={{ frame: rider.face.frameId }}>
        <Wheel arcs={rider.wheel} size={20} />
        <Tabs livery={rider.livery} />
        <b>{rider.livery.words}</b>
        {rider.number && <Plate number={rider.number} />}
        <span className="code">{rider.code}</span>
      </Link>
    </li>
  );
}
