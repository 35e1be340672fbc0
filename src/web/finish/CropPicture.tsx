/** A keeper with its crops drawn as frames over it; the chosen one is dragged by hand. */
import { type PointerEvent, useRef } from 'react';
import { cropMoved } from '../../core/finish/crops/byHand.js';
import type { Ratio } from '../../core/log/finishSaid.js';
import type { Box } from '../../core/measure/types.js';
import type { CropsView } from '../../server/finish/types.js';
import { Initialled } from '../marks/Voices.js';
import { ratioWords, type ShownCrop } from './cropWords.js';
import { SharpPicture } from './SharpPicture.js';

export interface CropPictureProps {
  readonly view: CropsView;
  readonly aspect: number;
  readonly crops: readonly ShownCrop[];
  readonly chosen: Ratio | undefined;
  readonly choose: (ratio: Ratio) => void;
  readonly put: (ratio: Ratio, box: Box) => void;
}

export function CropPicture({ view, aspect, crops, chosen, choose, put }: CropPictureProps) {
  return (
    <div className="crop-picture" style={{ aspectRatio: aspect }}>
      <SharpPicture frame={view.frameId} finish={view.finish} words={`${view.spot}, finished`} />
      {crops.map((crop, row) =>
        crop.box === null ? null : (
          <CropFrame
            key={crop.ratio}
            ratio={crop.ratio}
            box={crop.box}
            row={row}
            initials={crop.source === 'said' ? view.initials : null}
            isChosen={crop.ratio === chosen}
            choose={() => choose(crop.ratio)}
            put={(box) => put(crop.ratio, box)}
          />
        ),
      )}
    </div>
  );
}

interface CropFrameProps {
  readonly ratio: Ratio;
  readonly box: Box;
  /** Of its name: frames may share a corner. */
  readonly row: number;
  /** Whose word it is; null where it is nobody's. */
  readonly initials: string | null;
  readonly isChosen: boolean;
  readonly choose: () => void;
  readonly put: (box: Box) => void;
}

const percent = (share: number): string => `${(100 * share).toFixed(3)}%`;

const NAME_ROW_PX = 19;

function CropFrame({ ratio, box, row, initials, isChosen, choose, put }: CropFrameProps) {
  const held = useRef<{ readonly x: number; readonly y: number; readonly box: Box } | null>(null);
  const hold = (event: PointerEvent<HTMLElement>) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    held.current = { x: event.clientX, y: event.clientY, box };
    choose();
  };
  const drag = (event: PointerEvent<HTMLElement>) => {
    const from = held.current;
    const picture = event.currentTarget.parentElement;
    if (from === null || picture === null || event.buttons !== 1) return;
    const { width, height } = picture.getBoundingClientRect();
    put(cropMoved(from.box, (event.clientX - from.x) / width, (event.clientY - from.y) / height));
  };
  const [left, top, width, height] = box;
  return (
    <button
      type="button"
      className={isChosen ? 'crop-frame chosen' : 'crop-frame'}
      style={{
        insetInlineStart: percent(left),
        insetBlockStart: percent(top),
        inlineSize: percent(width),
        blockSize: percent(height),
      }}
      aria-label={`Crop ${ratioWords(ratio)}${initials === null ? '' : `, said by ${initials}`}`}
      aria-pressed={isChosen}
      onFocus={choose}
      onPointerDown={hold}
      onPointerMove={drag}
      onPointerUp={() => {
        held.current = null;
      }}
    >
      <span className="crop-name" style={{ insetBlockEnd: row * NAME_ROW_PX }}>
        {initials === null ? ratioWords(ratio) : <Initialled text={ratioWords(ratio)} initials={initials} />}
      </span>
    </button>
  );
}
