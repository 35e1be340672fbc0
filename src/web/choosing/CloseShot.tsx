/** One bike whole, with what was judged drawn on it. Its place is there before the picture comes. */
import type { CSSProperties } from 'react';
import type { ToChooseFrameView } from '../../server/choosing/types.js';
import type { CloseLookView, EvidenceView } from '../../server/judging/types.js';
import { Picture } from '../marks/Marks.js';

/** Width over height of the place. */
export const SHOT_SHAPE = 1.4;

export interface CloseShotProps {
  readonly frame: ToChooseFrameView;
  readonly look: CloseLookView | undefined;
  readonly drawsEvidence: boolean;
}

export function CloseShot({ frame, look, drawsEvidence }: CloseShotProps) {
  const whole = look?.whole;
  if (!whole)
    return (
      <span className="shot">
        <Picture picture={frame.picture} alt="" shape={SHOT_SHAPE} isEager />
      </span>
    );
  const shape = whole.widthPx / whole.heightPx;
  const style: CSSProperties = {
    aspectRatio: String(shape),
    ...(shape >= SHOT_SHAPE ? { inlineSize: '100%' } : { blockSize: '100%' }),
  };
  return (
    <span className="shot">
      <span className="fit-in" style={style}>
        <img src={whole.src} alt="" draggable={false} decoding="sync" />
        {drawsEvidence && <Evidence look={look} />}
      </span>
    </span>
  );
}

export const evidenceOf = (look: CloseLookView | undefined): readonly EvidenceView[] =>
  look?.judgement.kind === 'judged' ? look.judgement.evidence : [];

/** Numbered, so that the words beside the picture can say which is which. */
export function Evidence({ look }: { readonly look: CloseLookView | undefined }) {
  const all = evidenceOf(look);
  return (
    <span className="evidence" role="img" aria-label={all.map(({ sentence }) => sentence).join('; ')}>
      {all.map(({ what, sentence, box: [left, top, width, height] }, i) => (
        <i
          key={sentence}
          className={what.replace(' ', '-')}
          style={{
            insetInlineStart: `${left * 100}%`,
            insetBlockStart: `${top * 100}%`,
            inlineSize: `${width * 100}%`,
            blockSize: `${height * 100}%`,
          }}
        >
          <b>{i + 1}</b>
        </i>
      ))}
    </span>
  );
}
