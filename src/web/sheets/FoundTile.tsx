/** One rider among all: a crop, livery, wheel, and with a bike asked about how well they fit. */
import { Link } from '@tanstack/react-router';
import { memo, type RefObject } from 'react';
import type { FoundRiderView, LikelyRiderView } from '../../server/types.js';
import { Picture } from '../marks/Marks.js';
import { Fit } from './Fit.js';
import { RiderMarks } from './RiderTile.js';

export interface Shown {
  readonly found: FoundRiderView;
  readonly fit: LikelyRiderView | null;
}

export interface FoundTileProps {
  readonly shown: Shown;
  readonly isCurrent: boolean;
  /** A tap marks this rider to be joined; else it leads to the rider's sheet. */
  readonly isToMark: boolean;
  readonly initials: string | undefined;
  readonly place: number;
  readonly boxes: RefObject<(HTMLElement | null)[]>;
  readonly mark: (place: number) => void;
}

/** Of hundreds only those are drawn anew that change. */
export const FoundTile = memo(function FoundTile({
  shown,
  isCurrent,
  isToMark,
  initials,
  place,
  boxes,
  mark: markAt,
}: FoundTileProps) {
  const { rider } = shown.found;
  const mark = () => markAt(place);
  const keep = (element: HTMLElement | null) => {
    boxes.current[place] = element;
  };
  return (
    <li className={`rider-tile${isCurrent ? ' chosen' : ''}`}>
      {isToMark ? (
        <button ref={keep} type="button" aria-pressed={isCurrent} onFocus={mark} onClick={mark}>
          <TileWords shown={shown} initials={initials} />
        </button>
      ) : (
        <Link
          ref={keep}
          to="/riders/$key"
          params={{ key: rider.key }}
          search={{ frame: rider.face.frameId }}
          onFocus={mark}
        >
          <TileWords shown={shown} initials={initials} />
        </Link>
      )}
    </li>
  );
});

function TileWords({ shown: { found, fit }, initials }: Pick<FoundTileProps, 'shown' | 'initials'>) {
  const { rider } = found;
  return (
    <>
      <Picture picture={rider.face} alt="" />
      <RiderMarks rider={rider} />
      <RiderWords rider={rider} />
      {fit && <Fit fit={fit} {...(initials === undefined ? {} : { initials })} />}
    </>
  );
}

/** What is to be known before a rider is taken for somebody. */
function RiderWords({ rider }: { readonly rider: FoundRiderView['rider'] }) {
  const alike = rider.alike ?? 0;
  if (!rider.isInstructor && alike === 0) return null;
  return (
    <span className="rider-words">
      {rider.isInstructor && <span>instructs, not counted</span>}
      {alike > 0 && <span>{alike === 1 ? '1 other looks' : `${alike} others look`} alike</span>}
    </span>
  );
}
