/** A close look at one bike of one frame, from one state of the day; which crops are at hand the day is asked. */
import type { BikeRef } from '../../core/arrange/types.js';
import { bikeKeyOf, subjectOf } from '../../core/cover/index.js';
import { boxOfRect, cropAround, judgementOf, type PictureSize, partSquares } from '../../core/judge/index.js';
import type { PixelRect } from '../../core/measure/images.js';
import type { FileMetadata, Subject } from '../../core/measure/types.js';
import { type Heading, rememberingHeadings } from '../../host/day/headings.js';
import type { Day, DayState } from '../../host/day/types.js';
import { rectName } from '../../host/judge/index.js';
import { besidesOf } from './besides.js';
import { evidenceOf } from './evidence.js';
import { judgedWords } from './judgedWords.js';
import type { CloseLooksView, CloseLookView, CropView, JudgementView, JudgingView, PartView } from './types.js';

const headings = rememberingHeadings();

export async function closeLooksView(day: Day, bikes: readonly BikeRef[]): Promise<CloseLooksView> {
  const state = day.state();
  const besides = besidesOf(state, bikes);
  const heads = headings(state);
  const looks = await Promise.all(
    bikes.map((bike) => {
      const key = bikeKeyOf(bike);
      return lookOf(day, state, bike, { beside: besides.get(key) ?? [], heads: heads.get(key) ?? null });
    }),
  );
  return { asOf: state.asOf, looks };
}

async function lookOf(
  day: Day,
  state: DayState,
  bike: BikeRef,
  { beside, heads }: { readonly beside: readonly BikeRef[]; readonly heads: Heading | null },
): Promise<CloseLookView> {
  const { frameId, subject: index } = bike;
  const subject = subjectOf(bike, state.pixels);
  if ('kind' in subject) {
    const sentence = `This bike was not looked at in full: ${subject.reason}.`;
    return { frameId, subject: index, whole: null, parts: [], judgement: { kind: 'absent', sentence } };
  }
  const size = sizeOf(state, bike);
  const rect = size && cropAround(subject.box, size);
  const isHere = rect !== null && (await day.hasCrop(frameId, rect));
  const judged = state.judged.get(bikeKeyOf(bike));
  const squares = size && judged && isHere ? partSquares(subject.box, judged, size, heads) : [];
  return {
    frameId,
    subject: index,
    whole: isHere && size ? cropView(bike, rect, size) : null,
    parts: squares.map(
      ({ what, rect: square, edgePx }): PartView => ({ what, edgePx, ...cropView(bike, square, size!) }),
    ),
    judgement: judgementView(state, bike, {
      subject,
      isHere,
      whole: rect && size ? boxOfRect(rect, size) : null,
      beside,
    }),
  };
}

const cropView = ({ frameId }: BikeRef, rect: PixelRect, size: PictureSize): CropView => ({
  src: `/pictures/${frameId}/${rectName(rect)}.jpg`,
  widthPx: rect.right - rect.left,
  heightPx: rect.bottom - rect.top,
  at: boxOfRect(rect, size),
});

interface Looked {
  readonly subject: Subject;
  readonly isHere: boolean;
  /** Where the whole crop lies; null where nobody knows the picture's size. */
  readonly whole: CropView['at'] | null;
  readonly beside: readonly BikeRef[];
}

function judgementView(state: DayState, bike: BikeRef, { subject, isHere, whole, beside }: Looked): JudgementView {
  const judgement = judgementOf(subject, state.judgements.get(bike.frameId));
  const absent = (sentence: string): JudgementView => ({ kind: 'absent', sentence });
  if (judgement?.kind === 'unjudgeable') return absent(judgement.reason);
  if (judgement?.kind === 'judged' && whole) {
    const others = beside.flatMap((other) => state.judged.get(bikeKeyOf(other)) ?? []);
    const { judged } = judgement;
    return {
      kind: 'judged',
      evidence: evidenceOf(judged, others, { whole, box: subject.box }),
      words: judgedWords(judged),
    };
  }
  if (subject.what !== 'motorcycle')
    return absent(`Only motorcycles are looked at in full; this is a ${subject.what}.`);
  return isHere ? { kind: 'waiting' } : absent(ORIGINAL_MISSING);
}

const ORIGINAL_MISSING =
  'Its original is not on this machine, so it was not looked at in full. Plug in the disk that has it and open the meeting anew.';

/** Of the frame's main image. */
function sizeOf(state: DayState, { frameId }: BikeRef): PictureSize | null {
  const metadata = mainMetadata(state).get(frameId);
  if (metadata?.widthPx === undefined || metadata.heightPx === undefined) return null;
  return { width: metadata.widthPx, height: metadata.heightPx };
}

/** One state is asked about many bikes. */
const remembered = new WeakMap<DayState, ReadonlyMap<string, FileMetadata>>();
function mainMetadata(state: DayState): ReadonlyMap<string, FileMetadata> {
  const before = remembered.get(state);
  if (before) return before;
  const byFrame = new Map<string, FileMetadata>();
  for (const { frameId, mainFile } of state.arrangement.exposures) {
    const metadata = state.metadata.get(mainFile);
    if (metadata !== undefined) byFrame.set(frameId, metadata);
  }
  remembered.set(state, byFrame);
  return byFrame;
}

export function judgingView({ judging }: DayState): JudgingView {
  const { left, done, secondsLeft, withoutOriginal, heldUpBy } = judging;
  const missing =
    withoutOriginal === 0
      ? null
      : `${withoutOriginal} ${withoutOriginal === 1 ? 'bike was' : 'bikes were'} not looked at in full, for the originals are not on this machine. Plug in the disk that has them and open the meeting anew.`;
  return { left, done, secondsLeft, sentence: heldUpBy ?? missing };
}
