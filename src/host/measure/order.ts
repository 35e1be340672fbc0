/**
 * The order in which frames are measured: one of each burst before the rest, previews before full resolution, so that
 * every rider is on the screen early. Pure; asked again whenever files have come or measurements are done.
 */

import type { FileId, FillId, FrameId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { parseWallTime } from '../../core/numeric/wallTime.js';

/** A file as the order needs it; the arrangement's `KnownFile` is one. */
export interface FileToMeasure {
  readonly fileId: FileId;
  readonly fill: FillId;
  /** Inside the fill. */
  readonly path: string;
  readonly metadata: FileMetadata;
}

export interface MeasureStep<File extends FileToMeasure = FileToMeasure> {
  readonly file: File;
  readonly tier: 'preview' | 'full';
}

export interface MeasuredSoFar {
  /** Frames whose pixels are known at this version, unmeasurable ones too. */
  readonly preview: ReadonlySet<FrameId>;
  readonly full: ReadonlySet<FrameId>;
  /** The few of each pass that full resolution is wanted for. */
  readonly wantsFull: ReadonlySet<FrameId>;
}

/** Frames of one body no further apart than this belong to one burst. Common practice, no source: riders come by seconds apart. */
const BURST_GAP_MS = 1000;

interface TimedFile<File> {
  readonly file: File;
  readonly body: string;
  /** Recorded wall time, or null. */
  readonly at: number | null;
  readonly number: number;
}

/** What is left to do, first things first. A frame that several files hold is measured once. */
export const measureOrder = <File extends FileToMeasure>(
  files: readonly File[],
  done: MeasuredSoFar,
): readonly MeasureStep<File>[] => {
  const frames = oneFileEach(files);
  const bursts = splitBursts(frames.map(timed).sort(byBodyTimeNumber));
  const isDone = ({ file }: TimedFile<File>) => done.preview.has(file.metadata.frameId);
  const unserved = bursts.filter((burst) => !burst.some(isDone));
  const firsts = unserved.map((burst) => burst[Math.floor((burst.length - 1) / 2)] as TimedFile<File>);
  const isFirst = new Set(firsts);
  const rest = bursts.flat().filter((each) => !isDone(each) && !isFirst.has(each));
  const previews = [...firsts.sort(byTime), ...rest.sort(byTime)].map(({ file }) => file);
  const full = frames.filter(
    ({ metadata: { frameId } }) => done.preview.has(frameId) && done.wantsFull.has(frameId) && !done.full.has(frameId),
  );
  return [
    ...previews.map((file) => ({ file, tier: 'preview' as const })),
    ...full.map((file) => ({ file, tier: 'full' as const })),
  ];
};

/** Pictures only; a raw with its JPEG beside it is the JPEG's frame, and both slots of a camera hold one frame. */
const oneFileEach = <File extends FileToMeasure>(files: readonly File[]): readonly File[] => {
  const pictures = files.filter(({ metadata }) => metadata.media === 'jpeg' || metadata.media === 'raw');
  const jpegs = new Set(pictures.filter(({ metadata }) => metadata.media === 'jpeg').map(objectKey));
  const seen = new Set<FrameId>();
  return pictures.filter((file) => {
    const { media, frameId } = file.metadata;
    if (seen.has(frameId) || (media === 'raw' && jpegs.has(objectKey(file)))) return false;
    seen.add(frameId);
    return true;
  });
};

/** DCF: files of one number in one folder, of different extensions, are one object. */
const objectKey = ({ fill, path }: FileToMeasure): string => `${fill}|${path.replace(/\.[^./]*$/, '').toLowerCase()}`;

const timed = <File extends FileToMeasure>(file: File): TimedFile<File> => {
  const { captured, body } = file.metadata;
  const time = captured.kind === 'recorded' ? parseWallTime(captured.text, captured.subSec) : captured;
  return {
    file,
    body: `${body.make}|${body.model}|${body.serial ?? file.fill}`,
    at: time.kind === 'wall' ? time.wall : null,
    number: Number(/(\d{4})\.[^./]*$/.exec(file.path)?.[1] ?? 0),
  };
};

const byTime = (a: TimedFile<unknown>, b: TimedFile<unknown>): number =>
  (a.at ?? Number.POSITIVE_INFINITY) === (b.at ?? Number.POSITIVE_INFINITY)
    ? a.number - b.number
    : (a.at ?? Number.POSITIVE_INFINITY) - (b.at ?? Number.POSITIVE_INFINITY);

const byBodyTimeNumber = (a: TimedFile<unknown>, b: TimedFile<unknown>): number =>
  a.body === b.body ? byTime(a, b) : a.body < b.body ? -1 : 1;

/** A frame without a time is a burst of its own. */
const splitBursts = <File>(sorted: readonly TimedFile<File>[]): TimedFile<File>[][] => {
  const bursts: TimedFile<File>[][] = [];
  let previous: TimedFile<File> | undefined;
  for (const each of sorted) {
    const isSame =
      previous?.body === each.body && previous.at !== null && each.at !== null && each.at - previous.at <= BURST_GAP_MS;
    if (isSame) bursts.at(-1)?.push(each);
    else bursts.push([each]);
    previous = each;
  }
  return bursts;
};
