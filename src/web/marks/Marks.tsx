/** Small marks: colour tabs, number plates, group letters, copies, bars, pictures. */
import type { CSSProperties } from 'react';
import type { Box } from '../../core/measure/types.js';
import type { CopyView, GroupKeyView, LiveryView, PassFrameView, PictureView, Spoken } from '../../server/types.js';
import { type Crop, cropOf } from './crop.js';
import { Gauge } from './Voices.js';

/** Bike in halves, leathers as a bar; the words stand beside it. */
export function Tabs({ livery, size = 'small' }: { readonly livery: LiveryView; readonly size?: 'small' | 'large' }) {
  const [first, second] = livery.bike;
  const leathers = livery.rider[0];
  if (!first) return null;
  return (
    <svg className={`tabs ${size}`} viewBox="0 0 22 14" aria-hidden="true">
      <rect x=".5" y=".5" width="13" height="13" fill={first.css} />
      {second && <path d="M13.5 .5v13H.5z" fill={second.css} />}
      <rect className="edge" x=".5" y=".5" width="13" height="13" />
      {leathers && (
        <>
          <rect x="15.5" y=".5" width="5" height="13" fill={leathers.css} />
          <rect className="edge" x="15.5" y=".5" width="5" height="13" />
        </>
      )}
    </svg>
  );
}

/** A number that was read stands in a drawn plate; a guessed one leans and carries its gauge. */
export function Plate({ number, size = 'small' }: { readonly number: Spoken; readonly size?: 'small' | 'large' }) {
  return (
    <span className={`plate-set ${number.voice}`}>
      <span className={`plate ${size}`}>
        <span className="sr">number </span>
        {number.text}
      </span>
      {number.voice === 'pencilled' && <Gauge confidence={number.confidence} />}
      {number.voice === 'initialled' && <span className="initials">{number.initials}</span>}
    </span>
  );
}

export function GroupLetter({ group }: { readonly group: GroupKeyView }) {
  return (
    <span className="group-letter" data-tint={group.tint} aria-hidden="true">
      {group.key.slice(0, 2)}
    </span>
  );
}

/** A share of a bar, its two border pixels counted in. */
const sizeOf = (share: number): string => `calc(${share} * (100% + 2px))`;

/** A copy: read back is filled, written and not yet read back is a thin floor. */
export function CopyBar({ copy }: { readonly copy: CopyView }) {
  const percent = (share: number) => Math.round(share * 100);
  return (
    <span className="copy">
      <span className="disk">{copy.disk}</span>
      <span
        className="copy-bar"
        role="img"
        aria-label={`${copy.disk}: ${percent(copy.written)} % written, ${percent(copy.readBack)} % read back and alike`}
      >
        <i className="floor" style={{ inlineSize: sizeOf(copy.written) }} />
        <i className="filled" style={{ inlineSize: sizeOf(copy.readBack) }} />
      </span>
    </span>
  );
}

/** A count under way: never a spinner. */
export function Bar({ done, total, label }: { readonly done: number; readonly total: number; readonly label: string }) {
  return (
    <span
      className="bar"
      role="progressbar"
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={total}
      aria-valuenow={done}
    >
      <i className="filled" style={{ inlineSize: sizeOf(total > 0 ? done / total : 0) }} />
    </span>
  );
}

/**
 * A frame as a mark: sure is a block, slow a slanted streak, of no use an open box. Beneath it a dotted bar is
 * proposed to be kept, a thick one kept by a person's word; a stroke through it is left out by a person's word.
 */
export function FrameMark({ frame }: { readonly frame: Pick<PassFrameView, 'isGood' | 'isSlow' | 'kept'> }) {
  return (
    <svg className="frame-mark" width="9" height="16" viewBox="0 0 9 16" aria-hidden="true">
      {!frame.isGood || frame.kept === 'left-out' ? (
        <rect className="open" x=".75" y="1.75" width="6.5" height="9.5" />
      ) : frame.isSlow ? (
        <path className="ink" d="M0 12L4 1H5.2L1.2 12ZM3 12L7 1H9L5 12Z" />
      ) : (
        <rect className="ink" x="0" y="1" width="8" height="11" />
      )}
      {frame.kept === 'proposed' && <path className="ink" d="M0 13.8H2V15H0ZM3 13.8H5V15H3ZM6 13.8H8V15H6Z" />}
      {frame.kept === 'kept-by-person' && <rect className="ink" x="-.5" y="13" width="9" height="3" />}
      {frame.kept === 'left-out' && <path className="stroke" d="M-1 12.5L9 .5" />}
    </svg>
  );
}

const KEPT_WORDS: Readonly<Record<NonNullable<PassFrameView['kept']>, string>> = {
  proposed: 'proposed to be kept',
  'kept-by-person': 'kept by your word',
  'left-out': 'left out by your word',
};

export const frameWords = (frame: Pick<PassFrameView, 'isGood' | 'isSlow' | 'kept'>): string =>
  [
    frame.isGood ? (frame.isSlow ? 'good, slow' : 'good') : 'not good',
    frame.kept === null ? null : KEPT_WORDS[frame.kept],
  ]
    .filter((word) => word !== null)
    .join(', ');

export interface PictureProps {
  readonly picture: PictureView;
  /** What is to be seen; empty where words beside the picture say it. */
  readonly alt: string;
  /** Width ÷ height of the place it stands in. */
  readonly shape?: number;
  readonly isWhole?: boolean;
  /** Asked for at once, not when it comes near the screen. */
  readonly isEager?: boolean;
}

/** Under the bike, as far as it is in the crop. */
function underOf([left, , width]: Box, crop: Crop): CSSProperties {
  const from = Math.max(0, (left - crop.left) / crop.width);
  const to = Math.min(1, (left + width - crop.left) / crop.width);
  return { insetInlineStart: `${from * 100}%`, inlineSize: `${(to - from) * 100}%` };
}

/** A picture cropped to its bike. The place is drawn first, dashed, and nothing moves when it fills. */
export function Picture({ picture, alt, shape = 1.5, isWhole = false, isEager = false }: PictureProps) {
  const crop = cropOf(isWhole ? null : picture.box, picture.aspect, shape);
  const style: CSSProperties = {
    inlineSize: `${100 / crop.width}%`,
    blockSize: `${100 / crop.height}%`,
    insetInlineStart: `${(-crop.left / crop.width) * 100}%`,
    insetBlockStart: `${(-crop.top / crop.height) * 100}%`,
  };
  return (
    <span className="picture" style={{ aspectRatio: String(shape) }}>
      <img
        src={`/pictures/${picture.frameId}`}
        alt={alt}
        loading={isEager ? 'eager' : 'lazy'}
        decoding={isEager ? 'sync' : 'async'}
        draggable={false}
        style={style}
      />
      {picture.isShared && picture.box && (
        <i
          className="which"
          style={underOf(picture.box, crop)}
          title="This one is meant; the frame shows another too."
        />
      )}
    </span>
  );
}
