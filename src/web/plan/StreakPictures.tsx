/** Pictures of what a streak will look like, drawn true to the share of the bike's length. */
import { drawStreak } from '../../core/plan/settings/drawStreak.js';
import type { Range } from '../../core/plan/settings/types.js';
import type { LadderView } from '../../server/planTypes.js';
import { GroupLetter } from '../marks/Marks.js';
import { streakWords } from './ladderWords.js';

const PICTURE_PX = 108;

/** Each group at its sure shutter and at the ladder's end. Nothing is drawn where nothing streaks. */
export function StreakPictures({ view }: { readonly view: LadderView }) {
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
              aria-label={`${group.name} at ${shutter}: streak ${streakWords(streak)} of the bike, drawn`}
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
