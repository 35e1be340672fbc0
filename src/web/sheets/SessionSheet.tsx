/** One session by pass, in order of time; only the rows in sight are drawn. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { FrameId, RiderKey } from '../../core/ids.js';
import type { DayView, PassFrameView, SessionPassView, SessionView } from '../../server/types.js';
import { sessionQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf, clockWithTenthsOf } from '../line/lineGeometry.js';
import { isWithin, type Stretch } from '../line/stretch.js';
import { FrameMark, GroupLetter, Picture, Plate, Tabs } from '../marks/Marks.js';
import { Absent, Gauge, Voice } from '../marks/Voices.js';
import { say } from '../stores/said.js';
import { HeldTo } from './StretchSheet.js';
import { Trouble } from './Trouble.js';

const WORDS = SHEET_WORDS.session;
const LEAST_TILE_PX = 150;
const GAP_PX = 16;
/** Under each picture stand the time and marks, then the rider. */
const WORDS_PX = 75;

export interface SessionSheetProps {
  readonly index: number;
  readonly day: DayView;
  readonly stretch: Stretch | null;
}

export function SessionSheet({ index, day, stretch }: SessionSheetProps) {
  const { data, error, isPlaceholderData } = useQuery(sessionQuery(index));
  if (error) return <Trouble sentence={error.message} />;
  if (!data || isPlaceholderData) return <main id="sheet" aria-busy="true" />;
  return <Sheet key={index} view={heldTo(data, stretch)} day={day} stretch={stretch} />;
}

/** Only the passes of the stretch; what is said of the session itself stays whole. */
const heldTo = (view: SessionView, stretch: Stretch | null): SessionView =>
  stretch === null ? view : { ...view, passes: view.passes.filter((pass) => isWithin(stretch, pass.start)) };

interface SheetProps {
  readonly view: SessionView;
  readonly day: DayView;
  readonly stretch: Stretch | null;
}

function Sheet({ view, day, stretch }: SheetProps) {
  const navigate = useNavigate();
  // By a frame of the pass: its place among the others changes whenever the day is arranged again.
  const [mark, setMark] = useState<FrameId | null>(null);
  const found = view.passes.findIndex((one) => one.frames.some((frame) => frame.frameId === mark));
  const current = found < 0 ? null : found;
  const setCurrent = (index: number) => setMark(view.passes[index]?.frames[0]?.frameId ?? null);
  const goNext = () =>
    view.next === null
      ? void navigate({ to: '/' })
      : void navigate({ to: '/sessions/$index', params: { index: String(view.next) } });
  useGoOn(goNext);
  const riders = new Set(view.passes.flatMap((one) => one.rider?.key ?? [])).size;
  const pass = current === null ? null : (view.passes[current] ?? null);
  return (
    <main id="sheet" className="session-sheet">
      <header className="opening">
        <h1 className="headline">
          {view.group && <GroupLetter group={view.group} />} {view.name}: {riders} {riders === 1 ? 'rider' : 'riders'}{' '}
          in {view.passes.length} {view.passes.length === 1 ? 'pass' : 'passes'}.
        </h1>
        <p className="lead">
          From <Voice spoken={view.startVoice} /> to {clockOf(view.end)}, {view.frames.toLocaleString('en-GB')} frames;{' '}
          <Voice spoken={view.groupVoice} />
          {view.held && (
            <>
              , perhaps <Voice spoken={view.held} />
            </>
          )}
          .
          {view.unseen.map((spoken) => (
            <span key={spoken.text}>
              {' '}
              <Voice spoken={spoken} />.
            </span>
          ))}
        </p>
        {stretch && <HeldTo stretch={stretch} words={WORDS.wholeDay} />}
      </header>
      <div className="session-columns-two">
        <Passes view={view} current={current} setCurrent={setCurrent} isHeld={stretch !== null} />
        <aside>
          <Others view={view} />
          <SetRight view={view} day={day} pass={pass} goNext={goNext} />
        </aside>
      </div>
    </main>
  );
}

interface PassesProps {
  readonly view: SessionView;
  readonly current: number | null;
  readonly setCurrent: (index: number) => void;
  /** To a stretch of the day. */
  readonly isHeld: boolean;
}

/** The width of an element, kept as it changes. */
function useWidth() {
  const box = useRef<HTMLDivElement>(null);
  const [widthPx, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    setWidth(element.clientWidth);
    const observer = new ResizeObserver(() => setWidth(element.clientWidth));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { box, widthPx };
}

function Passes({ view, current, setCurrent, isHeld }: PassesProps) {
  const { box, widthPx } = useWidth();
  const columns = Math.max(2, Math.floor((widthPx + GAP_PX) / (LEAST_TILE_PX + GAP_PX)));
  const tilePx = (widthPx - (columns - 1) * GAP_PX) / columns;
  const rowPx = Math.ceil(tilePx / 1.5 + WORDS_PX);
  const rows = Math.ceil(view.passes.length / columns);
  const virtual = useWindowVirtualizer({
    count: widthPx === 0 ? 0 : rows,
    estimateSize: () => rowPx,
    overscan: 2,
    scrollMargin: box.current?.offsetTop ?? 0,
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: rows are measured again when their height changes
  useEffect(() => virtual.measure(), [rowPx]);
  const step = (by: number) => {
    const next = current === null ? 0 : Math.min(view.passes.length - 1, Math.max(0, current + by));
    virtual.scrollToIndex(Math.floor(next / columns), { align: 'auto' });
    setCurrent(next);
  };
  useArrows({ across: (by) => step(by), along: (by) => step(by * columns) });
  if (view.passes.length === 0)
    return (
      <div ref={box} className="passes">
        <p className="lead">
          {isHeld ? 'No pass of this session lies in the stretch.' : 'No bike was found in this session yet.'}
        </p>
      </div>
    );
  return (
    <div ref={box} className="passes">
      <div style={{ position: 'relative', blockSize: virtual.getTotalSize() }}>
        {virtual.getVirtualItems().map((row) => (
          <div
            key={row.key}
            className="pass-row"
            style={{
              insetBlockStart: row.start - virtual.options.scrollMargin,
              gridTemplateColumns: `repeat(${columns}, minmax(0, 1fr))`,
            }}
          >
            {view.passes.slice(row.index * columns, (row.index + 1) * columns).map((pass, i) => {
              const index = row.index * columns + i;
              return (
                <PassTile
                  key={pass.index}
                  pass={pass}
                  isCurrent={index === current}
                  isTabStop={index === (current ?? 0)}
                />
              );
            })}
          </div>
        ))}
      </div>
    </div>
  );
}

function PassTile({
  pass,
  isCurrent,
  isTabStop,
}: {
  readonly pass: SessionPassView;
  readonly isCurrent: boolean;
  readonly isTabStop: boolean;
}) {
  const link = useRef<HTMLAnchorElement>(null);
  useEffect(() => {
    if (isCurrent) link.current?.focus({ preventScroll: true });
  }, [isCurrent]);
  const shown = pass.frames[pass.best];
  if (!shown) return <span />;
  return (
    <Link
      ref={link}
      className="pass-tile"
      {...(pass.rider
        ? { to: '/riders/$key' as const, params: { key: pass.rider.key }, search: { frame: shown.frameId } }
        : { to: '/riders' as const, search: { of: shown.frameId } })}
      tabIndex={isTabStop ? 0 : -1}
    >
      <Picture picture={shown.picture} alt="" />
      <span className="pass-line">
        <span className="figure">{clockWithTenthsOf(pass.start)}</span>
        <span className="marks">
          {pass.frames.map((frame) => (
            <FrameMark key={frame.frameId} frame={frame} />
          ))}
        </span>
      </span>
      {pass.rider ? (
        <span className="livery">
          <Tabs livery={pass.rider.livery} />
          <b>{pass.rider.livery.words}</b>
          {pass.rider.number && <Plate number={pass.rider.number} />}
          <span className="code">{pass.rider.code}</span>
        </span>
      ) : (
        <span className="livery">
          <Absent>not placed yet</Absent>
          {pass.guessed && (
            <span className="pencilled">
              {pass.guessed.code} <Gauge confidence={pass.guessed.chance} />
            </span>
          )}
        </span>
      )}
    </Link>
  );
}

const ROLE_WORDS: Readonly<Record<SessionView['others'][number]['role'], string>> = {
  unmeasured: 'copied, not yet measured',
  unmeasurable: 'could not be measured',
  divider: 'between sessions, of sky or ground',
  scenery: 'without a bike',
  bike: 'with a bike that is nobody’s yet',
};

function Others({ view }: { readonly view: SessionView }) {
  if (view.others.length === 0) return null;
  return (
    <section className="part">
      <h2>Besides</h2>
      <ul className="rows">
        {view.others.map((other) => (
          <li key={other.role}>
            <b className="figure">{other.count}</b> {ROLE_WORDS[other.role]}
            {other.why.map((why) => (
              <p key={why} className="note">
                {why}
              </p>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface SetRightProps {
  readonly view: SessionView;
  readonly day: DayView;
  readonly pass: SessionPassView | null;
  readonly goNext: () => void;
}

function SetRight({ view, day, pass, goNext }: SetRightProps) {
  const [group, setGroup] = useState(view.group?.key ?? day.groupKeys[0]?.key ?? '');
  const middle = Math.round((view.start + view.end) / 2) as SessionView['start'];
  const navigate = useNavigate();
  const shown = pass?.frames[pass.best];
  return (
    <section className="part">
      <h2>Set right</h2>
      {day.groupKeys.length > 0 && (
        <div className="ask">
          <label htmlFor="session-group">The group that was out</label>
          <select id="session-group" value={group} onChange={(event) => setGroup(event.target.value)}>
            {day.groupKeys.map((one) => (
              <option key={one.key} value={one.key}>
                {one.name}
              </option>
            ))}
          </select>
          <Act
            words={WORDS.group}
            run={() => void say(`${view.name} was ${group}`, [{ kind: 'session-is', at: middle, group }])}
          />
        </div>
      )}
      <HeadCount view={view} middle={middle} />
      <div className="acts">
        {shown && <Act words={WORDS.whoIsIt} run={() => void navigate(thisOneAt(shown, pass?.rider?.key))} />}
        {pass ? (
          <Act
            words={WORDS.borderHere}
            run={() =>
              void say(`A session begins at ${clockOf(pass.start)}`, [{ kind: 'boundary', at: pass.start, is: 'here' }])
            }
          />
        ) : (
          <p className="note">Arrows go from pass to pass; a border can then be put before one.</p>
        )}
        {view.previous !== null && (
          <Act
            words={WORDS.noBorder}
            run={() =>
              void say(`No border at ${clockOf(view.start)}`, [{ kind: 'boundary', at: view.start, is: 'not-here' }])
            }
          />
        )}
        {view.next !== null && <Act words={WORDS.nextSession} run={goNext} />}
      </div>
    </section>
  );
}

/** In somebody's set already: to their sheet, which asks whether it is the one; else to who it could be. */
const thisOneAt = ({ frameId, subject }: PassFrameView, rider: RiderKey | undefined) =>
  rider === undefined
    ? { to: '/riders' as const, search: { of: frameId, bike: subject } }
    : { to: '/riders/$key' as const, params: { key: rider }, search: { frame: frameId, asks: 'this-one' as const } };

/** The organiser's count of riders on the track: from this session on, till another count is said. */
function HeadCount({ view, middle }: { readonly view: SessionView; readonly middle: SessionView['start'] }) {
  const [text, setText] = useState('');
  const { group } = view;
  if (!group) return null;
  const riders = /^\d{1,3}$/.test(text) ? Number(text) : null;
  return (
    <div className="ask">
      <label className="field">
        <span>Riders of {group.name} on the track, counted by the organiser</span>
        <input
          inputMode="numeric"
          maxLength={3}
          value={text}
          autoComplete="off"
          onChange={(event) => setText(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter' || event.key === 'Escape') event.currentTarget.blur();
          }}
        />
      </label>
      <Act
        words={WORDS.headCount}
        isOff={riders === null}
        why="No count is written yet."
        run={() =>
          riders !== null &&
          void say(`${riders} riders of ${group.name} by the head count`, [
            { kind: 'head-count', at: middle, group: group.key, riders },
          ])
        }
      />
    </div>
  );
}
