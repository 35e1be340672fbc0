/** The ladder of shutters at a spot, group beside group, with pictures of what the streak will look like. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { SpotId } from '../../core/ids.js';
import { drawStreak } from '../../core/plan/settings/drawStreak.js';
import type { Practice, Range, Rung, Speed } from '../../core/plan/settings/types.js';
import type { WallMs } from '../../core/units.js';
import type { LadderView } from '../../server/planTypes.js';
import { ladderQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { GroupLetter } from '../marks/Marks.js';
import { Absent, Initialled } from '../marks/Voices.js';
import { say } from '../stores/said.js';

export interface LadderPartProps {
  readonly date: string;
  readonly spot: SpotId;
  readonly at: WallMs;
  readonly initials: string;
}

export function LadderPart({ date, spot, at, initials }: LadderPartProps) {
  const { data, error } = useQuery(ladderQuery(date, spot, at));
  if (error)
    return (
      <section className="part ask">
        <h2>Shutter</h2>
        <p>{error.message}</p>
      </section>
    );
  if (!data) return <section className="part" aria-busy="true" />;
  return (
    <section className="part ask ladder-part">
      <h2>
        Shutter at {data.spot.number} {data.spot.name}
        <span className="aside">streak, share of the bike</span>
      </h2>
      <Ladder view={data} initials={initials} />
      <SaySpeed view={data} />
      <ul className="mark-key">
        <li>
          <StreakMark kind="sure" length={10} wide={12} isKey /> sure
        </li>
        <li>
          <StreakMark kind="slow" length={10} wide={12} isKey /> slow: go down a rung once the list for the session is
          done
        </li>
      </ul>
      <Pictures view={data} />
      <Practices practice={data.practice} />
      <ul className="rows settings">
        {data.settings.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}

function Ladder({ view, initials }: { readonly view: LadderView; readonly initials: string }) {
  return (
    <table className="ladder">
      <caption className="sr">Streak by shutter and group</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="sr">Shutter</span>
          </th>
          {view.columns.map(({ group, speed }) => (
            <th scope="col" key={group.key}>
              <GroupLetter group={group} /> <span className="sr">{group.name}</span>
              <SpeedWords speed={speed} initials={initials} />
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {view.rows.map(({ shutter, cells }) => (
          <tr key={shutter}>
            <th scope="row">{shutter}</th>
            {cells.map((cell) => (
              <Cell key={cell.group} cell={cell} view={view} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Speeds keep their voice: a person's word, a measurement, a guess with its reasons one step away. */
function SpeedWords({ speed, initials }: { readonly speed: Speed; readonly initials: string }) {
  switch (speed.kind) {
    case 'said':
      return <Initialled text={`${Math.round(speed.kmh)} km/h`} initials={initials} />;
    case 'measured':
      return (
        <span className="printed">
          {Math.round(speed.kmh)} km/h <span className="note">{speed.from}</span>
        </span>
      );
    case 'guessed':
      return (
        <details className="speed">
          <summary className="guessed">
            {Math.round(speed.kmh[0])}–{Math.round(speed.kmh[1])} km/h
          </summary>
          {speed.reasons.map((reason) => (
            <span key={reason}>{reason}</span>
          ))}
        </details>
      );
    case 'unknown':
      return <Absent>speed not known</Absent>;
  }
}

/** A person's word about how quick a group goes by here. */
function SaySpeed({ view }: { readonly view: LadderView }) {
  const [key, setKey] = useState<string | null>(null);
  const [text, setText] = useState('');
  const group = view.columns.find((column) => column.group.key === key)?.group ?? view.columns[0]?.group;
  const kmh = Number(text.trim().replace(',', '.'));
  const isRead = text.trim() !== '' && kmh >= 5 && kmh <= 400;
  if (group === undefined) return null;
  const sayIt = () =>
    void say(`${group.name} at ${kmh} km/h by ${view.spot.number} ${view.spot.name}`, [
      { kind: 'speed-at', spot: view.spot.id, group: group.key, kmh },
    ]).then((isSaid) => isSaid && setText(''));
  return (
    <p className="fields">
      <label htmlFor="speed-group">Group</label>
      <select id="speed-group" value={group.key} onChange={(event) => setKey(event.target.value)}>
        {view.columns.map((column) => (
          <option key={column.group.key} value={column.group.key}>
            {column.group.name}
          </option>
        ))}
      </select>
      <label htmlFor="speed-kmh">km/h here</label>
      <input
        id="speed-kmh"
        inputMode="decimal"
        size={5}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <Act
        words={SHEET_WORDS.plan.speed}
        run={sayIt}
        isOff={!isRead}
        why={text.trim() === '' ? 'Write a speed first.' : 'A speed from 5 to 400 km/h is expected.'}
      />
    </p>
  );
}

type LadderCell = Rung & { readonly group: string };

function Cell({ cell, view }: { readonly cell: LadderCell; readonly view: LadderView }) {
  const column = view.columns.find(({ group }) => group.key === cell.group);
  const isLast = column?.start === cell.shutter;
  return (
    <td className={`${cell.kind}${isLast ? ' last' : ''}`} title={cellTitle(cell)}>
      {cell.streak === null ? (
        <span className="figure">{cell.kind === 'too-slow' ? '' : cell.kind}</span>
      ) : (
        <>
          <span className="figure">{percent(cell.streak)}</span>
          <StreakMark kind={cell.kind} length={((cell.streak[0] + cell.streak[1]) / 2) * MARK_PX} />
        </>
      )}
      <span className="sr">, {cell.kind === 'too-slow' ? 'too slow' : cell.kind}</span>
    </td>
  );
}

function cellTitle({ wheelDeg, handBlurPx, ownBlurPx }: Rung): string {
  const range = ([low, high]: Range, unit: string) => `${low.toFixed(0)}–${high.toFixed(0)}${unit}`;
  return [
    wheelDeg === null ? null : `wheels turn ${range(wheelDeg, '°')}`,
    handBlurPx === null ? null : `a hand 1 % off blurs ${range(handBlurPx, ' px')}`,
    ownBlurPx === null ? null : `its own depth blurs ${range(ownBlurPx, ' px')}`,
  ]
    .filter((part) => part !== null)
    .join('; ');
}

function percent([low, high]: Range): string {
  const words = (share: number) => (share < 0.1 ? (share * 100).toFixed(1) : (share * 100).toFixed(0));
  return words(low) === words(high) ? `${words(low)} %` : `${words(low)}–${words(high)} %`;
}

/** The bike's length is 60. */
const MARK_PX = 60;

interface StreakMarkProps {
  readonly kind: Rung['kind'];
  readonly length: number;
  readonly wide?: number;
  /** Without the ground that the length is read on. */
  readonly isKey?: boolean;
}

/** A block is sure; slow is drawn in slanted strokes. */
function StreakMark({ kind, length, wide = MARK_PX, isKey = false }: StreakMarkProps) {
  const long = Math.min(wide, length);
  const strokes = Array.from({ length: Math.max(1, Math.floor(long / 5)) }, (_, i) => `M${i * 5} 6l3 -6h2.4l-3 6z`);
  return (
    <svg className="streak-mark" width={wide} height="6" viewBox={`0 0 ${wide} 6`} aria-hidden="true">
      {!isKey && <path className="ground" d={`M0 5.5H${wide}M.5 2v4M${wide - 0.5} 2v4`} />}
      {kind === 'sure' ? <rect width={Math.max(1, long)} height="6" /> : <path d={strokes.join('')} />}
    </svg>
  );
}

const PICTURE_PX = 108;

/** Each group at its sure shutter and at the ladder's end. Nothing is drawn where nothing streaks. */
function Pictures({ view }: { readonly view: LadderView }) {
  const side = view.spot.view?.side === 'left' ? 'left' : 'right';
  const shown = view.columns.flatMap(({ group, start, end }) =>
    [...new Set([start, end])].flatMap((shutter) => {
      const cell = view.rows.find((row) => row.shutter === shutter)?.cells.find((one) => one.group === group.key);
      return cell?.streak && cell.wheelDeg ? [{ group, shutter, streak: cell.streak, wheelDeg: cell.wheelDeg }] : [];
    }),
  );
  if (shown.length === 0) return null;
  return (
    <ul className="streaks">
      {shown.map(({ group, shutter, streak, wheelDeg }) => {
        const drawing = drawStreak({ streak: middle(streak), wheelDeg: middle(wheelDeg), widthPx: PICTURE_PX, side });
        return (
          <li key={`${group.key} ${shutter}`}>
            <svg
              width={drawing.widthPx}
              height={drawing.heightPx}
              viewBox={`0 0 ${drawing.widthPx} ${drawing.heightPx}`}
              role="img"
              aria-label={`${group.name} at ${shutter}: streak ${percent(streak)} of the bike, drawn`}
            >
              {drawing.shapes.map((shape) => (
                <path key={`${shape.role} ${shape.d}`} className={shape.role} d={shape.d} opacity={shape.opacity} />
              ))}
            </svg>
            <span className="note">
              <GroupLetter group={group} /> {shutter}
            </span>
          </li>
        );
      })}
    </ul>
  );
}

const middle = ([low, high]: Range): number => (low + high) / 2;

const BASES = {
  published: 'published',
  'common-practice': 'common practice',
  'own-convention': 'our own guess',
} as const;

/** Not worked out: what photographers say, with where it is from. */
function Practices({ practice }: { readonly practice: readonly Practice[] }) {
  return (
    <details className="practice">
      <summary>What photographers use here</summary>
      <ul className="note">
        {practice.map(({ range: [quick, slow], basis, says }) => (
          <li key={says}>
            {shutterWords(quick)}
            {quick === slow ? '' : ` to ${shutterWords(slow)}`}, {says}: {BASES[basis]}.
          </li>
        ))}
      </ul>
    </details>
  );
}

const shutterWords = (seconds: number): string => `1/${Math.round(1 / seconds)}`;
