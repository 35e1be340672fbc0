/** The day line: the way about, on top of every screen. Its left end is before, its hours the day, right of it the evening. */
import { Link } from '@tanstack/react-router';
import { memo, type ReactNode, useEffect, useRef, useState } from 'react';
import type { DayView, LineSessionView } from '../../server/types.js';
import { clockOf, groundSegments, hoursOf, percentAt, skylinePath, widthPercent } from './lineGeometry.js';
import { type Choose, StretchPart, useDrag } from './StretchPart.js';
import { overlaps, type Stretch } from './stretch.js';

export interface DayLineProps {
  readonly day: DayView;
  /** Sessions to keep dark while the rest pales. */
  readonly chosen?: readonly number[];
  /** The stretch that the sheet below is held to. */
  readonly stretch: Stretch | null;
  readonly choose: Choose;
  readonly here:
    | 'before'
    | 'day'
    | 'questions'
    | 'choosing'
    | 'finish'
    | 'gallery'
    | 'session'
    | 'riders'
    | 'rider'
    | 'lunch'
    | 'plan'
    | 'orders'
    | 'takings'
    | 'worked';
}

const MINUTE_MS = 60_000;

/** Now on the meeting's clock, stepping each minute; nothing glides. */
function useNow(day: DayView): number {
  const [heardAt, setHeardAt] = useState(() => Date.now());
  const [now, setNow] = useState<number>(day.now);
  // A new reading of the meeting's clock starts the count afresh.
  useEffect(() => {
    setHeardAt(Date.now());
    setNow(day.now);
  }, [day.now]);
  useEffect(() => {
    const timer = setInterval(() => setNow(day.now + Date.now() - heardAt), MINUTE_MS);
    return () => clearInterval(timer);
  }, [day.now, heardAt]);
  return now;
}

export function DayLine({ day, chosen, stretch, choose, here }: DayLineProps) {
  const { line } = day;
  const now = useNow(day);
  const box = useRef<HTMLDivElement>(null);
  const { dragged, handlers } = useDrag(line, box, choose);
  const sessions = { line, stretch, isCurrent: here === 'session', now, ...(chosen ? { chosen } : {}) };
  const isOnLine = now >= line.from && now <= line.to;
  return (
    <nav className="day-line" aria-label="The day">
      <div className="end before">
        <Link to="/before" aria-current={here === 'before' ? 'page' : undefined}>
          before
        </Link>
        <Link to="/plan" aria-current={here === 'plan' ? 'page' : undefined}>
          plan
        </Link>
        <span className="row-name skyline-name" aria-hidden="true">
          frames a minute
        </span>
        <span className="row-name" aria-hidden="true">
          sessions
        </span>
        <span className="row-name" aria-hidden="true">
          spots
        </span>
      </div>
      <div className="hours-and-rows" ref={box} {...handlers}>
        <Link to="/" className="hours" aria-current={here === 'day' ? 'page' : undefined}>
          <b className="sr">The day, hours</b>
          {hoursOf(line).map((hour) => (
            <span key={hour.label} style={{ insetInlineStart: `${hour.percent}%` }}>
              {hour.label}
            </span>
          ))}
        </Link>
        <Skyline
          line={line}
          words={`${day.counts.frames.toLocaleString('en-GB')} frames, ${day.measuring.left.toLocaleString('en-GB')} of them not yet measured`}
          isPaled={chosen !== undefined}
        />
        <Sessions {...sessions} />
        {line.lunch && <Lunch line={line} lunch={line.lunch} isHere={here === 'lunch'} />}
        <Stands line={line} isPaled={chosen !== undefined} />
        <StretchPart line={line} stretch={stretch} dragged={dragged} choose={choose} />
        {isOnLine && <Needle percent={percentAt(line, now)} clock={clockOf(now)} />}
      </div>
      <SessionNames {...sessions} isAtLunch={here === 'lunch'} />
      <div className="end evening">
        <b
          className={
            here === 'questions' || here === 'choosing' || here === 'finish' || here === 'gallery' ? 'here' : ''
          }
        >
          evening
        </b>
        <span>
          <Link to="/questions" aria-current={here === 'questions' ? 'page' : undefined}>
            questions
          </Link>
          <Link to="/choosing" aria-current={here === 'choosing' ? 'page' : undefined}>
            choosing
          </Link>
          <Link to="/finish" aria-current={here === 'finish' ? 'page' : undefined}>
            finish
          </Link>
          <Link to="/gallery" aria-current={here === 'gallery' ? 'page' : undefined}>
            gallery
          </Link>
        </span>
      </div>
      <div className="end afterwards">
        <b className={here === 'orders' || here === 'takings' || here === 'worked' ? 'here' : ''}>afterwards</b>
        <span>
          <Link to="/orders" aria-current={here === 'orders' ? 'page' : undefined}>
            orders
          </Link>
          <Link to="/takings" aria-current={here === 'takings' ? 'page' : undefined}>
            takings
          </Link>
          <Link to="/worked" aria-current={here === 'worked' ? 'page' : undefined}>
            what worked
          </Link>
        </span>
      </div>
    </nav>
  );
}

interface SkylineProps {
  readonly line: DayView['line'];
  readonly words: string;
  readonly isPaled: boolean;
}

/** Of a day of 7,500 frames: drawn again only where it changed. */
const Skyline = memo(function Skyline({ line, words, isPaled }: SkylineProps) {
  const minutes = line.measured.length;
  const most = Math.max(1, ...line.measured.map((count, i) => count + (line.waiting[i] ?? 0)));
  return (
    <svg
      className={`skyline${isPaled ? ' paled' : ''}`}
      viewBox={`0 0 ${minutes} 100`}
      preserveAspectRatio="none"
      role="img"
      aria-label={words}
    >
      <path className="measured" d={skylinePath(line.measured, most)} />
      <path className="waiting" d={skylinePath(line.waiting, most, line.measured)} />
      <path
        className="ground"
        vectorEffect="non-scaling-stroke"
        d={groundSegments(line, line.dividers)
          .map(([from, to]) => `M${from.toFixed(2)} 100H${to.toFixed(2)}`)
          .join('')}
      />
    </svg>
  );
});

interface SessionsProps {
  readonly line: DayView['line'];
  readonly stretch: Stretch | null;
  readonly chosen?: readonly number[];
  readonly isCurrent: boolean;
  readonly now: number;
}

const sessionWords = (session: LineSessionView, now: number): string =>
  session.index === null
    ? `${session.name}, ${clockOf(session.start)} to ${clockOf(session.end)}, ${session.start > now ? 'to come' : 'no frames'}`
    : `${session.name}, ${clockOf(session.start)} to ${clockOf(session.end)}, ${session.frames} frames${heldWords(session)}`;

const heldWords = ({ held }: LineSessionView): string =>
  held === null ? '' : `, perhaps held from ${clockOf(held.from)} to ${clockOf(held.to)}`;

function Sessions({ line, stretch, chosen, isCurrent, now }: SessionsProps) {
  return (
    <ul className="sessions" aria-label="Sessions">
      {line.sessions.map((session) => {
        const isChosen = session.index !== null && (chosen?.includes(session.index) ?? false);
        const style = {
          insetInlineStart: `${percentAt(line, session.start)}%`,
          inlineSize: `${widthPercent(line, session.start, session.end)}%`,
        };
        const look = [
          session.index === null ? 'coming' : 'past',
          chosen !== undefined && !isChosen ? 'paled' : '',
          isChosen && isCurrent ? 'chosen' : '',
          `edge-${session.edge}`,
        ].join(' ');
        return (
          <li
            key={`${session.name}-${session.start}`}
            className={look}
            data-tint={session.tint ?? 'none'}
            style={style}
          >
            <span title={session.index === null ? sessionWords(session, now) : undefined}>
              <span className="letter">{session.name.slice(0, 1)}</span>
              <span className="rest">{session.name.slice(1)}</span>
            </span>
            <SessionLink session={session} stretch={stretch} isHere={isChosen && isCurrent} now={now} />
            {session.held && <Held session={session} held={session.held} />}
          </li>
        );
      })}
    </ul>
  );
}

/** In the gap of the sessions, where lunch is. */
function Lunch({
  line,
  lunch,
  isHere,
}: {
  readonly line: DayView['line'];
  readonly lunch: NonNullable<DayView['line']['lunch']>;
  readonly isHere: boolean;
}) {
  const style = {
    insetInlineStart: `${percentAt(line, lunch.from)}%`,
    inlineSize: `${widthPercent(line, lunch.from, lunch.to)}%`,
  };
  return (
    <Link to="/lunch" className="lunch-gap" style={style} aria-current={isHere ? 'page' : undefined}>
      lunch
    </Link>
  );
}

interface SessionLinkProps {
  readonly session: LineSessionView;
  readonly stretch: Stretch | null;
  readonly isHere: boolean;
  readonly now: number;
  readonly children?: ReactNode;
}

function SessionLink({ session, stretch, isHere, now, children }: SessionLinkProps) {
  if (session.index === null) return null;
  return (
    <Link
      to="/sessions/$index"
      params={{ index: String(session.index) }}
      // A session outside the stretch is gone to as a whole.
      search={stretch && !overlaps(stretch, session) ? { stretch: undefined } : {}}
      aria-label={sessionWords(session, now)}
      aria-current={isHere ? 'page' : undefined}
    >
      {children}
    </Link>
  );
}

/** On a phone a session is drawn narrower than a thumb: there its name leads to it. */
function SessionNames({
  line,
  stretch,
  chosen,
  isCurrent,
  now,
  isAtLunch,
}: SessionsProps & { readonly isAtLunch: boolean }) {
  const isHere = ({ index }: LineSessionView) => isCurrent && index !== null && (chosen?.includes(index) ?? false);
  const shown = line.sessions.filter(({ index }) => index !== null);
  const here = useRef<HTMLLIElement>(null);
  const at = isAtLunch ? 'lunch' : shown.find(isHere)?.index;
  useEffect(() => {
    if (at !== undefined) here.current?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [at]);
  const lunch = line.lunch;
  if (shown.length === 0 && lunch === null) return null;
  const beforeLunch = lunch === null ? shown : shown.filter(({ start }) => start < lunch.from);
  const nameOf = (session: LineSessionView) => (
    <li key={session.start} data-tint={session.tint ?? 'none'} ref={isHere(session) ? here : undefined}>
      <SessionLink session={session} stretch={stretch} isHere={isHere(session)} now={now}>
        {session.name}
      </SessionLink>
    </li>
  );
  return (
    <ul className="session-names" aria-label="Sessions">
      {beforeLunch.map(nameOf)}
      {lunch && (
        <li data-tint="none" ref={isAtLunch ? here : undefined}>
          <Link to="/lunch" aria-current={isAtLunch ? 'page' : undefined}>
            lunch
          </Link>
        </li>
      )}
      {shown.slice(beforeLunch.length).map(nameOf)}
    </ul>
  );
}

/** A held stretch is cut out of its session, between dotted edges: it is a guess. */
function Held({
  session,
  held,
}: {
  readonly session: LineSessionView;
  readonly held: NonNullable<LineSessionView['held']>;
}) {
  const within = { from: session.start, to: session.end };
  return (
    <i
      className="held"
      style={{
        insetInlineStart: `${percentAt(within, held.from)}%`,
        inlineSize: `${widthPercent(within, held.from, held.to)}%`,
      }}
    />
  );
}

function Stands({ line, isPaled }: { readonly line: DayView['line']; readonly isPaled: boolean }) {
  if (line.stands.length === 0) return <p className="stands none">no spots are said</p>;
  return (
    <>
      <Ways line={line} />
      <ul className={`stands${isPaled ? ' paled' : ''}`} aria-label="Spots">
        {line.stands.map((stand) => (
          <li
            key={stand.from}
            className={stand.isPlanned ? 'planned' : undefined}
            style={{
              insetInlineStart: `${percentAt(line, stand.from)}%`,
              inlineSize: `${widthPercent(line, stand.from, stand.to)}%`,
            }}
          >
            {stand.spots.map((spot) => (
              <span key={spot.number} className="stand">
                <b>{spot.number}</b> <span className="stand-name">{spot.name}</span>
              </span>
            ))}
          </li>
        ))}
      </ul>
    </>
  );
}

/** From one stand to the next: a slope as wide as the time between them. */
function Ways({ line }: { readonly line: DayView['line'] }) {
  const slopes = line.stands.slice(1).flatMap((stand, i) => {
    const before = line.stands[i];
    return before && before.to < stand.from
      ? [`M${percentAt(line, before.to)} 0L${percentAt(line, stand.from)} 14`]
      : [];
  });
  return (
    <svg className="ways" viewBox="0 0 100 14" preserveAspectRatio="none" aria-hidden="true">
      <path d={slopes.join('')} vectorEffect="non-scaling-stroke" />
    </svg>
  );
}

function Needle({ percent, clock }: { readonly percent: number; readonly clock: string }) {
  return (
    <div className={`needle${percent > 92 ? ' left' : ''}`} style={{ insetInlineStart: `${percent}%` }}>
      <time>
        <span className="sr">now </span>
        {clock}
      </time>
    </div>
  );
}
