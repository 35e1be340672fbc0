/** `tyrewall finish` and `tyrewall hand-over`. */
import { PROOF_EDGE_PX } from '../core/finish/index.js';
import { amendAbout } from '../host/meeting/index.js';
import { CliError } from './cliError.js';
import { makeMeetingFinals, makeMeetingGallery, makeMeetingProofs } from './handOver.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { createProgressBoard } from './progress.js';

type Report = (progress: { done: number; total: number }) => void;
type Work = (whole: WholeDay, report: Report) => Promise<string>;

export interface FinishWish {
  readonly finals?: boolean;
  readonly raw?: boolean;
  /** Of finals. */
  readonly edge?: number;
  readonly proofEdge?: number;
}

export function finishCommand(folder: string, { finals, raw, edge, proofEdge }: FinishWish = {}): Promise<void> {
  if (proofEdge !== undefined) refuseProofEdge(proofEdge);
  if (edge !== undefined) refuseEdge(edge);
  if (!finals && (edge !== undefined || raw)) refuseWithoutFinals(edge === undefined ? '--raw' : '--edge');
  if (!finals) return withMeeting(folder, 'proofs', (whole, report) => proofsOf(whole, proofEdge, report));
  const wish = { longEdgePx: edge ?? null, from: raw ? 'raw' : 'camera' } as const;
  return withMeeting(folder, 'finals', (whole, report) => makeMeetingFinals(whole, wish, report));
}

/** The size is the meeting's from then on, so that the gallery finds the same proofs. */
async function proofsOf(whole: WholeDay, longEdgePx: number | undefined, report: Report): Promise<string> {
  if (longEdgePx === undefined) return makeMeetingProofs(whole, report);
  await amendAbout(whole.meeting.folder, { proofLongEdgePx: longEdgePx });
  return makeMeetingProofs(whole, report, { longEdgePx });
}

function refuseProofEdge(px: number): void {
  const { least, most } = PROOF_EDGE_PX;
  if (Number.isInteger(px) && px >= least && px <= most) return;
  throw new CliError(
    `Expected a long edge of ${least} to ${most} pixels for proofs but got ${px}. Say for instance 1400.`,
  );
}

function refuseEdge(px: number): void {
  if (Number.isInteger(px) && px >= 64) return;
  throw new CliError(
    `Expected a long edge in whole pixels, 64 at least, for finals but got ${px}. Say for instance 3000.`,
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
  try {
    console.log(await showing(name, (report) => work(whole, report)));
  } finally {
    await whole.close();
  }
}

/** Runs long work with its progress on screen. */
export async function showing(
  name: string,
  work: (report: (p: { done: number; total: number }) => void) => Promise<string>,
): Promise<string> {
  const board = createProgressBoard();
  try {
    return await work(({ done, total }) =>
      board.show({ name, done, total, words: `${done} of ${total}`, hasEnded: done === total }),
    );
  } finally {
    board.close();
  }
}
