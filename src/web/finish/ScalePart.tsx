/** One scale: the meeting's frames as ticks, and a mark that is moved among them. */
import { type KeyboardEvent, type PointerEvent, useId } from 'react';
import type { FrameTickView } from '../../server/finish/types.js';
import { placeOn, type Scale, valueAt } from './scales.js';

export interface ScalePartProps {
  readonly scale: Scale;
  readonly value: number;
  readonly ticks: readonly FrameTickView[];
  readonly isChosen: boolean;
  readonly choose: () => void;
  readonly move: (value: number) => void;
}

export function ScalePart({ scale, value, ticks, isChosen, choose, move }: ScalePartProps) {
  const name = useId();
  const moveTo = (event: PointerEvent<HTMLElement>) => {
    if (event.buttons !== 1) return;
    const { left, width } = event.currentTarget.getBoundingClientRect();
    move(valueAt(scale, (100 * (event.clientX - left)) / width));
  };
  const toEnd = (event: KeyboardEvent<HTMLElement>) => {
    if (event.key !== 'Home' && event.key !== 'End') return;
    event.preventDefault();
    move(event.key === 'Home' ? scale.least : scale.most);
  };
  return (
    <li className={isChosen ? 'scale chosen' : 'scale'}>
      <p>
        <b id={name}>{scale.name}</b> {scale.what}
      </p>
      <div
        className="scale-line"
        role="slider"
        tabIndex={0}
        aria-labelledby={name}
        aria-valuemin={scale.least}
        aria-valuemax={scale.most}
        aria-valuenow={value}
        aria-valuetext={scale.words(value)}
        onFocus={choose}
        onKeyDown={toEnd}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          moveTo(event);
        }}
        onPointerMove={moveTo}
      >
        <span className="mark-words" style={{ insetInlineStart: `${placeOn(scale, value)}%` }}>
          {scale.words(value)}
        </span>
        <Ticks scale={scale} ticks={ticks} />
        <span className="mark" style={{ insetInlineStart: `${placeOn(scale, value)}%` }} />
      </div>
      <p className="scale-ends">
        <span>{scale.ends[0]}</span>
        <span>{scale.ends[1]}</span>
      </p>
    </li>
  );
}

function Ticks({ scale, ticks }: Pick<ScalePartProps, 'scale' | 'ticks'>) {
  const { tickOf } = scale;
  const path = tickOf ? ticks.map((tick) => `M${placeOn(scale, tickOf(tick)).toFixed(2)} 2V13`).join('') : '';
  return (
    <svg viewBox="0 0 100 15" preserveAspectRatio="none" aria-hidden="true">
      <path d="M0 14H100" className="base" />
      <path d={path} className="ticks" />
    </svg>
  );
}
