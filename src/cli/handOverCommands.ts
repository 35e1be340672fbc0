/** `tyrewall finish` and `tyrewall hand-over`. */
import { PROOF_EDGE_PX } from '../core/finish/index.js';
import { IN_WORDS, keepOwnMark, letGoOwnMark, readOwnMark } from '../host/finish/marks/index.js';
import { amendAbout } from '../host/meeting/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { CliError } from './cliError.js';
import { type Made, makeMeetingFinals, makeMeetingGallery, makeMeetingProofs } from './handOver.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { createProgressBoard } from './progress.js';
import { counted, onOneLine } from './words.js';

type Report = (progress: { done: number; total: number; words?: string }) => void;
type Work = (whole: WholeDay, report: Report) => Promise<Made>;

export interface FinishWish {
  readonly finals?: boolean;
  readonly raw?: boolean;
  /** Of finals, as typed. */
  readonly edge?: string;
  /** As typed. */
  readonly proofEdge?: string;
  /** A PNG or SVG: this meeting's mark, and the next one's. */
  readonly mark?: string;
  readonly markInWords?: boolean;
}

export async function finishCommand(folder: string, wish: FinishWish = {}): Promise<void> {
  const { finals, raw } = wish;
  const proofEdge = wish.proofEdge === undefined ? undefined : proofEdgeOf(wish.proofEdge);
  const edge = wish.edge === undefined ? undefined : edgeOf(wish.edge);
  if (!finals && (edge !== undefined || raw)) refuseWithoutFinals(edge === undefined ? '--raw' : '--edge');
  const mark = await markSaid(wish);
  if (!finals) return withMeeting(folder, 'proofs', (whole, report) => proofsOf(whole, proofEdge, mark, report));
  const how = { longEdgePx: edge ?? null, from: raw ? 'raw' : 'camera' } as const;
  return withMeeting(folder, 'finals', (whole, report) => makeMeetingFinals(whole, how, report));
}

/** A PNG made ready, the words alone, or nothing said. A file that is no mark is refused before anything is opened. */
async function markSaid({ finals, mark, markInWords }: FinishWish): Promise<Buffer | typeof IN_WORDS | null> {
  if (mark === undefined && !markInWords) return null;
  if (finals) throw new CliError('Expected no mark beside --finals, which have none, but one was said. Leave it out.');
  if (mark !== undefined && markInWords)
    throw new CliError('Expected --mark or --mark-in-words but got both. Say one of them.');
  return mark === undefined ? IN_WORDS : readOwnMark(mark);
}

/** Size and mark are the meeting's from then on, so that the gallery finds the same proofs. */
async function proofsOf(
  whole: WholeDay,
  longEdgePx: number | undefined,
  mark: Buffer | typeof IN_WORDS | null,
  report: Report,
): Promise<Made> {
  const { folder, stateFolder } = whole.meeting;
  if (longEdgePx !== undefined) await amendAbout(folder, { proofLongEdgePx: longEdgePx });
  const stateRoot = stateRootOf(stateFolder);
  const markPicture =
    mark === null
      ? undefined
      : await (mark === IN_WORDS ? letGoOwnMark(folder, stateRoot) : keepOwnMark(folder, stateRoot, mark));
  return makeMeetingProofs(whole, report, {
    ...(longEdgePx === undefined ? {} : { longEdgePx }),
    ...(markPicture === undefined ? {} : { markPicture }),
  });
}

function proofEdgeOf(text: string): number {
  const { least, most } = PROOF_EDGE_PX;
  const px = wholeNumber(text, least, most);
  if (px !== null) return px;
  throw new CliError(
    `Expected a long edge of ${least} to ${most} pixels for proofs after --proof-edge but got ${onOneLine(text)}. Say for instance 1400.`,
  );
}

const FINAL_EDGE_PX = { least: 64, most: 100_000 } as const;
function edgeOf(text: string): number {
  const { least, most } = FINAL_EDGE_PX;
  const px = wholeNumber(text, least, most);
  if (px !== null) return px;
  throw new CliError(
    `Expected a long edge in whole pixels, ${least} to ${most}, for finals after --edge but got ${onOneLine(text)}. Say for instance 3000.`,
  );
}

function refuseWithoutFinals(wish: string): never {
  throw new CliError(
    `Expected --finals beside ${wish}, which is of finals alone, but it was not said. Say both; for proofs say --proof-edge.`,
  );
}

export const handOverCommand = (folder: string): Promise<void> => withMeeting(folder, 'gallery', makeMeetingGallery);

async function withMeeting(folder: string, name: string, work: Work): Promise<void> {
  const whole = await openWholeDay(folder);
  const { sentence, refused } = await showing(name, (report) => work(whole, report)).finally(() => whole.close());
  console.log(sentence);
  refuseQuietSuccess(refused);
}

/** Whoever runs this in a script has to learn that pictures are missing. */
export function refuseQuietSuccess(refused: number): void {
  if (refused === 0) return;
  const were = refused === 1 ? 'was' : 'were';
  throw new CliError(`${counted(refused, 'picture')} ${were} refused, as said above; all others are done.`);
}

/** Runs long work with its progress on screen. */
export async function showing<Result>(name: string, work: (report: Report) => Promise<Result>): Promise<Result> {
  const board = createProgressBoard();
  try {
    return await work(({ done, total, words = `${done} of ${total}` }) =>
      board.show({ name, done, total, words, hasEnded: done === total }),
    );
  } finally {
    board.close();
  }
}
