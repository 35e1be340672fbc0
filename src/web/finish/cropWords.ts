/** Crops of one keeper as they are shown while one of them is moved, and how each is said. */
import { cutsInto } from '../../core/finish/crops/byHand.js';
import type { Crop } from '../../core/finish/crops/types.js';
import type { Ratio } from '../../core/log/finishSaid.js';
import type { Box } from '../../core/measure/types.js';
import type { CropsView } from '../../server/finish/types.js';

export type Moved = Readonly<Partial<Record<Ratio, Box>>>;

export interface ShownCrop {
  readonly ratio: Ratio;
  /** Null where the picture stays whole. */
  readonly box: Box | null;
  readonly source: 'rule' | 'said' | 'moved' | 'whole';
  /** In words: how large, what it cuts, or why there is none. */
  readonly words: string;
  readonly isCutting: boolean;
}

export const ratioWords = (ratio: Ratio): string => ratio.replace(':', ' : ');

const WHOLE_WORDS: Readonly<Record<Extract<Crop, { kind: 'kept-whole' }>['why'], string>> = {
  'cut-already': 'stays whole: the camera has cut bike or rider',
  'too-wide': 'stays whole: bike and rider are wider than this shape holds',
  'too-tall': 'stays whole: bike and rider are taller than this shape holds',
  'nothing-found': 'stays whole: no bike was found',
};

export const shownCrops = (view: CropsView, moved: Moved): readonly ShownCrop[] =>
  view.crops.map(({ ratio, crop }) => shown(view, ratio, crop, moved[ratio]));

function shown(view: CropsView, ratio: Ratio, crop: Crop, moved: Box | undefined): ShownCrop {
  if (moved === undefined && crop.kind === 'kept-whole')
    return { ratio, box: null, source: 'whole', words: WHOLE_WORDS[crop.why], isCutting: false };
  const box = moved ?? (crop.kind === 'crop' ? crop.box : null);
  const source = moved ? 'moved' : crop.kind === 'crop' ? crop.source : 'whole';
  const isCutting = box !== null && cutsInto(box, view.subjects);
  return { ratio, box, source, words: sizeWords(view, box), isCutting };
}

/** Never made larger than this. */
function sizeWords({ widthPx, heightPx }: CropsView, box: Box | null): string {
  if (box === null || widthPx === null || heightPx === null) return '';
  const [wide, high] = [Math.round(box[2] * widthPx), Math.round(box[3] * heightPx)];
  return `${wide.toLocaleString('en-GB')} × ${high.toLocaleString('en-GB')} pixels at 100 %.`;
}

/** How things stand, in a sentence. */
export function cropsHeadline({ at, of, whole }: CropsView): string {
  const place = `Crops of keeper ${at.toLocaleString('en-GB')} of ${of.toLocaleString('en-GB')}`;
  if (whole === 0) return `${place}. Every one holds bike and rider.`;
  return `${place}. ${whole === 1 ? 'One stays' : `${whole.toLocaleString('en-GB')} stay`} whole in some shape.`;
}
