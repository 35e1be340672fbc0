/**
 * Files → exposures. One exposure is one press of the shutter: its JPEG, its RAW, the copies in both slots and the
 * side files. Two files belong together when they carry the same frame id, or the same body, recorded time and file
 * number; a file without a time joins the pictures that lie beside it under the same name. Equal names from two
 * bodies stay two.
 */
import type { BodyKey, FileId, FillId, FrameId } from '../ids.js';
import type { Absent, FrameMeasurement } from '../measure/types.js';
import type { WallMs } from '../units.js';
import type { KnownFile } from './types.js';
import { wallOfRecorded } from './wallTime.js';

/** An exposure before clocks are put right. */
export interface RawExposure {
  readonly main: KnownFile;
  readonly frameId: FrameId;
  readonly files: readonly FileId[];
  readonly body: BodyKey;
  readonly fill: FillId;
  readonly path: string;
  readonly folder: string;
  readonly fileNumber: number | null;
  readonly recorded: WallMs | Absent;
}

/** DCF: four free characters and four digits (JEITA CP-3461, section 3.2.1); longer names end in their digits too. */
const FILE_NUMBER = /(\d{4})$/;

export function bodyKeyOf(file: KnownFile, said: ReadonlyMap<FillId, BodyKey>): BodyKey {
  const word = said.get(file.fill);
  if (word !== undefined) return word;
  const { make = '', model = '', serial } = file.metadata.body;
  return `${make}|${model}|${serial === undefined || serial === '' ? `fill:${file.fill}` : serial}` as BodyKey;
}

export function exposuresOf(
  files: readonly KnownFile[],
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  saidBodies: ReadonlyMap<FillId, BodyKey>,
): readonly RawExposure[] {
  const ordered = [...files].sort(byPlace).filter((file) => file.metadata.media !== 'clip');
  const groups = new Groups(ordered.length);
  const byKey = new Map<string, number>();
  const join = (key: string, i: number): void => {
    const first = byKey.get(key);
    if (first === undefined) byKey.set(key, i);
    else groups.join(first, i);
  };
  ordered.forEach((file, i) => {
    if (!isPicture(file)) return;
    join(`frame ${file.metadata.frameId}`, i);
    const time = file.metadata.captured;
    if (time.kind === 'recorded') {
      const name = fileNumberOf(file.path) ?? stemOf(file.path).toLowerCase();
      join(`shot ${bodyKeyOf(file, saidBodies)} ${time.text} ${time.subSec ?? ''} ${name}`, i);
    }
  });
  const timedBeside = new Map<string, number>();
  ordered.forEach((file, i) => {
    if (!isPicture(file) || file.metadata.captured.kind !== 'recorded') return;
    const beside = besideKey(file);
    if (!timedBeside.has(beside)) timedBeside.set(beside, i);
  });
  ordered.forEach((file, i) => {
    if (isPicture(file) && file.metadata.captured.kind === 'recorded') return;
    const beside = besideKey(file);
    const first = timedBeside.get(beside);
    if (first === undefined) join(`beside ${beside}`, i);
    else groups.join(first, i);
  });
  return groups
    .lists()
    .map((list) => list.map((i) => ordered[i]!))
    .filter((list) => list.some(isPicture))
    .map((list) => exposureOf(list, pixels, saidBodies));
}

function exposureOf(
  list: readonly KnownFile[],
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
  saidBodies: ReadonlyMap<FillId, BodyKey>,
): RawExposure {
  const main = list.filter(isPicture).reduce((best, file) => (isBetterMain(file, best, pixels) ? file : best));
  const timed = list.find((file) => isPicture(file) && file.metadata.captured.kind === 'recorded') ?? main;
  const captured = timed.metadata.captured;
  const wall = captured.kind === 'recorded' ? wallOfRecorded(captured) : null;
  return {
    main,
    frameId: main.metadata.frameId,
    files: list.map((file) => file.fileId).filter((id, i, all) => all.indexOf(id) === i),
    body: bodyKeyOf(timed, saidBodies),
    fill: main.fill,
    path: main.path,
    folder: main.path.slice(0, Math.max(0, main.path.lastIndexOf('/'))),
    fileNumber: fileNumberOf(main.path),
    recorded: wall ?? (captured.kind === 'recorded' ? { kind: 'absent', reason: 'impossible-date' } : captured),
  };
}

/** A JPEG is shown before a RAW, but not one that could not be measured while the RAW could. */
function isBetterMain(a: KnownFile, b: KnownFile, pixels: ReadonlyMap<FrameId, FrameMeasurement>): boolean {
  const rank = (file: KnownFile): number => {
    const isBroken = pixels.get(file.metadata.frameId)?.kind === 'unmeasurable';
    return (isBroken ? 0 : 2) + (file.metadata.media === 'jpeg' ? 1 : 0);
  };
  if (rank(a) !== rank(b)) return rank(a) > rank(b);
  return a.metadata.bytes > b.metadata.bytes;
}

const isPicture = (file: KnownFile): boolean => file.metadata.media === 'jpeg' || file.metadata.media === 'raw';

const byPlace = (a: KnownFile, b: KnownFile): number =>
  compareText(a.fill, b.fill) || compareText(a.path, b.path) || compareText(a.fileId, b.fileId);

export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export function stemOf(path: string): string {
  const name = path.slice(path.lastIndexOf('/') + 1);
  const dot = name.lastIndexOf('.');
  return dot <= 0 ? name : name.slice(0, dot);
}

export function fileNumberOf(path: string): number | null {
  const digits = FILE_NUMBER.exec(stemOf(path))?.[1];
  return digits === undefined ? null : Number(digits);
}

const besideKey = (file: KnownFile): string =>
  `${file.fill} ${file.path.slice(0, file.path.lastIndexOf('/') + 1)}${stemOf(file.path)}`.toLowerCase();

/** Disjoint sets with path halving (Tarjan and van Leeuwen, 1984). */
class Groups {
  readonly #parent: Int32Array;

  constructor(size: number) {
    this.#parent = Int32Array.from({ length: size }, (_, i) => i);
  }

  find(i: number): number {
    const parent = this.#parent;
    let at = i;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  }

  /** The smaller index becomes the root, so that lists come out in the order of the input. */
  join(a: number, b: number): void {
    const rootA = this.find(a);
    const rootB = this.find(b);
    if (rootA < rootB) this.#parent[rootB] = rootA;
    else this.#parent[rootA] = rootB;
  }

  lists(): readonly (readonly number[])[] {
    const lists = new Map<number, number[]>();
    for (let i = 0; i < this.#parent.length; i++) {
      const root = this.find(i);
      const list = lists.get(root);
      if (list === undefined) lists.set(root, [i]);
      else list.push(i);
    }
    return [...lists.values()];
  }
}
