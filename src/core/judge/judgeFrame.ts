/** One bike in one frame, judged from its full-resolution crop and what the measuring said of the frame. */
import { type PartsThere, partsOver } from '../measure/bikeSeen.js';
import { type GreyImage, greyOf, wholeRect } from '../measure/images.js';
import type { Box } from '../measure/types.js';
import { edgeWidth } from './edgeWidth.js';
import { measureFineness } from './measureFineness.js';
import type { OnGrid } from './onGrid.js';
import { evenColumns, nearerOnes } from './seeInFront.js';
import { tellHead } from './tellHead.js';
import { tellLean } from './tellLean.js';
import { tellLimb } from './tellLimb.js';
import { tellSide } from './tellSide.js';
import type { Cut, Focus, Judged, JudgedCrop, JudgeInput, SharpArea, Whole } from './types.js';

/** The parts are looked up on a grid this wide. */
const GRID = 128;
const INSIDE = 0.5;
const ON_HEAD = 0.35;
/** Helmet and number count this many times what the rest of the bike does. */
const AREA_WEIGHT = 3;

export function judgeFrame(input: JudgeInput): Judged {
  const seen = lookOver(input);
  return {
    focus: focusOf(input, seen),
    edge: edgeOf(input, seen),
    size: sizeOf(input, seen),
    aspect: aspectOf(input),
    inFront: [...evenInFront(input), ...nearerOnes(input.subject, input.others)],
    bright: brightOf(input, seen),
    side: tellSide(input.burst),
    ...ridingOf(input, seen),
  };
}

/** The subject on a coarse grid over the crop. */
interface Seen extends PartsThere {
  readonly columns: number;
  readonly rows: number;
}

function lookOver({ crop, subject }: JudgeInput): Seen {
  const { picture, parts } = crop;
  const columns = Math.min(GRID, picture.width);
  const rows = Math.max(1, Math.round((columns * picture.height) / picture.width));
  if (parts) return { ...partsOver(parts, wholeRect(picture), { width: columns, height: rows }), columns, rows };
  const [left, top, width, height] = inCrop(subject.box, crop);
  const whole = Float32Array.from({ length: columns * rows }, (_, index) => {
    const x = ((index % columns) + 0.5) / columns;
    const y = (Math.floor(index / columns) + 0.5) / rows;
    return x >= left && x <= left + width && y >= top && y <= top + height ? 1 : 0;
  });
  return { whole, worn: new Float32Array(whole.length), helmet: new Float32Array(whole.length), columns, rows };
}

/** From the whole picture's 0–1 coordinates to the crop's. */
const inCrop = (box: Box, { at }: JudgedCrop): Box => [
  (box[0] - at[0]) / at[2],
  (box[1] - at[1]) / at[3],
  box[2] / at[2],
  box[3] / at[3],
];
const fromCrop = (box: Box, { at }: JudgedCrop): Box => [
  at[0] + box[0] * at[2],
  at[1] + box[1] * at[3],
  box[2] * at[2],
  box[3] * at[3],
];

/** Less sure than this, a reading may be no number at all. */
const READ_FROM = 0.5;
const numbersRead = ({ numbers = [] }: JudgeInput['subject']) =>
  numbers.filter(({ confidence }) => confidence >= READ_FROM);

function focusOf({ crop, subject }: JudgeInput, seen: Seen): Judged['focus'] {
  const { picture } = crop;
  const numbers = numbersRead(subject).map(({ box }) => inCrop(box, crop));
  const weightOf = (x: number, y: number): number => {
    const [u, v] = [x / picture.width, y / picture.height];
    const cell = Math.floor(v * seen.rows) * seen.columns + Math.floor(u * seen.columns);
    if (seen.whole[cell]! < INSIDE) return 0;
    return seen.helmet[cell]! > ON_HEAD || numbers.some((box) => isInside(box, u, v)) ? AREA_WEIGHT : 1;
  };
  const grey = greyOf(picture);
  const fineness = measureFineness(grey, weightOf);
  if ('kind' in fineness) return fineness;
  const helmet = boundsWhere(seen, (cell) => seen.whole[cell]! >= INSIDE && seen.helmet[cell]! > ON_HEAD);
  const areas: Focus['areas'] = [
    ...(helmet ? [areaOf('helmet', fromCrop(helmet, crop), crop, seen, grey)] : []),
    ...numbersRead(subject).map(({ box }) => areaOf('number', box, crop, seen, grey)),
  ];
  return { kind: 'focus', fineness, areas };
}

function areaOf(what: SharpArea['what'], box: Box, crop: JudgedCrop, seen: Seen, grey: GreyImage): SharpArea {
  const within = inCrop(box, crop);
  const edgePx = edgeWidth(grey, (x, y) => {
    const [u, v] = [x / grey.width, y / grey.height];
    if (!isInside(within, u, v)) return false;
    return seen.whole[Math.floor(v * seen.rows) * seen.columns + Math.floor(u * seen.columns)]! >= INSIDE;
  });
  return edgePx === null ? { what, box } : { what, box, edgePx };
}

const isInside = ([left, top, width, height]: Box, x: number, y: number): boolean =>
  x >= left && x <= left + width && y >= top && y <= top + height;

function boundsWhere({ columns, rows }: Seen, isWanted: (cell: number) => boolean): Box | null {
  let [x0, y0, x1, y1] = [columns, rows, -1, -1];
  for (let y = 0, cell = 0; y < rows; y += 1)
    for (let x = 0; x < columns; x += 1, cell += 1) {
      if (!isWanted(cell)) continue;
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  if (x1 < 0) return null;
  return [x0 / columns, y0 / rows, (x1 + 1 - x0) / columns, (y1 + 1 - y0) / rows];
}

/** A crop or box this near to the picture's edge lies on it; shares. */
const AT_EDGE = 0.004;
/** Cells of the subject along the edge, of its height or width: less is a tyre that just fits. */
const LEAST_CUT = 0.04;
/** A bike's wheels stand in the lower part of its box. */
const WHEELS_FROM = 0.45;

function edgeOf({ crop, subject }: JudgeInput, seen: Seen): Cut | Whole {
  const { at } = crop;
  const { columns, rows } = seen;
  const [, top, , height] = inCrop(subject.box, crop);
  const upright = (x: number): readonly number[] => Array.from({ length: rows }, (_, y) => y * columns + x);
  const level = (y: number): readonly number[] => Array.from({ length: columns }, (_, x) => y * columns + x);
  const edges: readonly (readonly [boolean, readonly number[], number])[] = [
    [at[0] < AT_EDGE, upright(0), height * rows],
    [at[0] + at[2] > 1 - AT_EDGE, upright(columns - 1), height * rows],
    [at[1] < AT_EDGE, level(0), height * rows],
    [at[1] + at[3] > 1 - AT_EDGE, level(rows - 1), height * rows],
  ];
  const cuts = edges.flatMap(([isEdge, cells, length]): readonly Cut[] => {
    const on = isEdge ? cells.filter((cell) => seen.whole[cell]! >= INSIDE) : [];
    const share = on.length / length;
    if (share < LEAST_CUT) return [];
    const where = boundsWhere(seen, (cell) => on.includes(cell))!;
    const isHead = on.some((cell) => seen.helmet[cell]! > ON_HEAD);
    const isLow = where[1] + where[3] / 2 > top + WHEELS_FROM * height;
    return [{ kind: 'cut', what: isHead ? 'helmet' : isLow ? 'wheel' : 'bike', share, where: fromCrop(where, crop) }];
  });
  const [left, upper, width, tall] = subject.box;
  const margin = Math.max(0, Math.min(left, upper, 1 - left - width, 1 - upper - tall));
  return cuts.sort((a, b) => b.share - a.share)[0] ?? { kind: 'whole', margin };
}

const sizeOf = ({ crop }: JudgeInput, { whole, columns, rows }: Seen): number =>
  Math.sqrt((whole.reduce((sum, share) => sum + share, 0) / (columns * rows)) * crop.at[2] * crop.at[3]);

const aspectOf = ({ crop: { picture, at }, subject: { box } }: JudgeInput): number =>
  ((box[2] / at[2]) * picture.width) / ((box[3] / at[3]) * picture.height);

/** Lean, limb and head. Where the wheels are cut off nobody knows where they stand. */
function ridingOf(input: JudgeInput, seen: Seen): Pick<Judged, 'lean' | 'limb' | 'head'> {
  const { crop } = input;
  const grid = gridOf(seen);
  const head = tellHead(grid, crop.picture);
  const placed = head.kind === 'towards' ? { ...head, where: fromCrop(head.where, crop) } : head;
  if (crop.at[1] + crop.at[3] > 1 - AT_EDGE && edgeOf(input, seen).kind === 'cut') {
    const wheelsCut = { kind: 'absent', reason: 'wheels-cut' } as const;
    return { lean: wheelsCut, limb: wheelsCut, head: placed };
  }
  const cellAspect = crop.picture.width / seen.columns / (crop.picture.height / seen.rows);
  const lean = tellLean(grid, cellAspect);
  const limb = tellLimb(grid, cellAspect);
  const point = ([x, y]: readonly [number, number]) =>
    [crop.at[0] + x * crop.at[2], crop.at[1] + y * crop.at[3]] as const;
  return {
    lean: lean.kind === 'lean' ? { ...lean, from: point(lean.from), to: point(lean.to) } : lean,
    limb: limb.kind === 'out' ? { ...limb, where: fromCrop(limb.where, crop) } : limb,
    head: placed,
  };
}

const gridOf = ({ columns, rows, whole, worn, helmet }: Seen) =>
  ({
    columns,
    rows,
    isBike: (cell) => whole[cell]! >= INSIDE,
    isHelmet: (cell) => helmet[cell]! > ON_HEAD,
    worn: (cell) => worn[cell]!,
    onHead: (cell) => helmet[cell]! * whole[cell]!,
  }) satisfies OnGrid & Record<'worn' | 'onHead', (cell: number) => number>;

function evenInFront({ crop, subject }: JudgeInput): Judged['inFront'] {
  const { picture } = crop;
  const [left, top, width, height] = inCrop(subject.box, crop);
  const { width: across, height: down } = picture;
  const found = evenColumns(picture, [left * across, top * down, width * across, height * down]);
  if (!found) return [];
  const [x, y, w, h] = found.box;
  return [
    { what: 'post or person', share: found.share, where: fromCrop([x / across, y / down, w / across, h / down], crop) },
  ];
}

/** Cameras bend their curve long before white: above this a channel holds hardly any drawing. */
const BURNT = 235;

function brightOf({ crop }: JudgeInput, seen: Seen): Judged['bright'] {
  const { data, width, height } = crop.picture;
  const stride = Math.max(1, Math.round(width / 600));
  const burnt = new Uint32Array(seen.columns * seen.rows);
  let [all, sum] = [0, 0];
  for (let y = 0; y < height; y += stride)
    for (let x = 0; x < width; x += stride) {
      const cell = Math.floor((y / height) * seen.rows) * seen.columns + Math.floor((x / width) * seen.columns);
      if (seen.whole[cell]! < INSIDE) continue;
      all += 1;
      const at = (y * width + x) * 3;
      if (Math.max(data[at]!, data[at + 1]!, data[at + 2]!) < BURNT) continue;
      sum += 1;
      burnt[cell]! += 1;
    }
  if (sum === 0) return { share: 0 };
  const most = Math.max(...burnt);
  const where = boundsWhere(seen, (cell) => burnt[cell]! * 2 >= most)!;
  return { share: sum / all, where: fromCrop(where, crop) };
}
