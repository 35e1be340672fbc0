/** Whom to look for and where: crop, colours, number, lap so far, and where the plan meets them. */
import { Link } from '@tanstack/react-router';
import { useRef } from 'react';
import type { LunchSheetView, NextView, WatchView } from '../../server/lunch/types.js';
import { useArrows } from '../keys/keyboard.js';
import { clockOf } from '../line/lineGeometry.js';
import { GroupLetter, Picture, Plate, Tabs } from '../marks/Marks.js';
import { Voice } from '../marks/Voices.js';
import { Wheel } from '../marks/Wheel.js';

export function WatchPart({ view }: { readonly view: LunchSheetView }) {
  const list = useRef<HTMLOListElement>(null);
  const step = (by: 1 | -1) => {
    const links = [...(list.current?.querySelectorAll<HTMLElement>(':scope > li > a') ?? [])];
    const at = links.indexOf(document.activeElement as HTMLElement);
    links[at < 0 ? 0 : Math.min(links.length - 1, Math.max(0, at + by))]?.focus();
  };
  useArrows({ across: step, along: step });
  return (
    <section className="part watch-part">
      <h2>
        Look for <span className="aside">most owed first</span>
      </h2>
      {view.watch.length === 0 ? (
        <p className="note">
          {view.groups.every(({ riders }) => riders === 0)
            ? 'No rider is in the pictures yet.'
            : 'Everybody in the pictures has enough good frames from enough spots.'}
        </p>
      ) : (
        <ol className="watch-list" ref={list}>
          {view.watch.map((watched) => (
            <Watched key={watched.rider.key} watched={watched} hasPlan={view.hasPlan} />
          ))}
        </ol>
      )}
      {view.watchMore > 0 && (
        <p className="note">
          {view.watchMore} more are owed less. <Link to="/riders">All riders</Link>
        </p>
      )}
    </section>
  );
}

function Watched({ watched, hasPlan }: { readonly watched: WatchView; readonly hasPlan: boolean }) {
  const { rider, group, helmet, why, missed, lap, wants } = watched;
  return (
    <li className="watched">
      <Link to="/riders/$key" params={{ key: rider.key }} search={{ frame: rider.face.frameId }}>
        <Picture picture={rider.face} alt="" shape={1.25} />
        <span className="watched-words">
          <span className="livery">
            {group && <GroupLetter group={group} />} <Tabs livery={rider.livery} /> <b>{rider.livery.words}</b>
          </span>
          {helmet && (
            <span className="helmet">
              <i style={{ background: helmet.css }} aria-hidden="true" /> {helmet.name} helmet
            </span>
          )}
          <span className="who">
            <Wheel arcs={rider.wheel} size={26} />
            {rider.number && <Plate number={rider.number} />}
            <span className="code">{rider.code}</span>
          </span>
        </span>
      </Link>
      <p className="why">
        {why}
        {missed.length > 0 && `; missed at ${missed.map(({ number }) => number).join(', ')}`}
      </p>
      {wants !== null && <p className="wants">booked: {wants}</p>}
      {lap && (
        <p>
          lap <Voice spoken={lap} />
        </p>
      )}
      <NextLine watched={watched} hasPlan={hasPlan} />
    </li>
  );
}

function NextLine({ watched, hasPlan }: { readonly watched: WatchView; readonly hasPlan: boolean }) {
  const { next, nextFound, isOutAgain } = watched;
  if (!isOutAgain) return <p className="next">no session of theirs is to come</p>;
  if (nextFound !== null && !isSame(next, nextFound))
    return (
      <p className="next">
        found plan: <Meeting next={nextFound} />
        {next && (
          <span className="instead">
            {' '}
            instead of <Meeting next={next} />
          </span>
        )}
      </p>
    );
  if (next === null && !hasPlan) return null;
  return <p className="next">{next ? <Meeting next={next} /> : 'the plan meets them nowhere'}</p>;
}

const isSame = (a: NextView | null, b: NextView): boolean => a?.stretch === b.stretch && a.spot.id === b.spot.id;

const Meeting = ({ next: { stretch, from, spot, isNewSpot } }: { readonly next: NextView }) => (
  <>
    <b>
      {spot.number} {spot.name}
    </b>
    , {stretch} at {clockOf(from)}
    {isNewSpot && ', a new spot'}
  </>
);
