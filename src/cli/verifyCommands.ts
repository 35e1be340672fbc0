/** `verify`, `mend` and `add-disk`: are the copies still what the cards held, and what to do when they are not. */
import { basename } from 'node:path';
import { addDisk, mend, recordCheck, verifyFolder } from '../host/bringin/index.js';
import { CliError } from './cliError.js';
import { createProgressBoard, type ProgressBoard, standingOfCard, standingOfVerify } from './progress.js';
import { counted, onOneLine } from './words.js';

const mostTroubles = 50;

export async function verifyCommand(folder: string, wish: { readonly record?: boolean } = {}): Promise<void> {
  const check = await withBoard((board) => verifyFolder(folder, (progress) => board.show(standingOfVerify(progress))));
  printTroubles(check.troubles);
  printTroubles(check.files.flatMap((file) => (file.kind === 'new' ? [inNoManifest(file.path)] : [])));
  if (check.notPastCache !== undefined) console.log(check.notPastCache);
  console.log(check.sentence);
  if (!check.isWhole) process.exitCode = 1;
  if (wish.record !== true) return;
  const { recorded, troubles } = await recordCheck(check);
  printTroubles(troubles);
  console.log(`Recorded as the next generation of ${counted(recorded, 'history', 'histories')}.`);
  if (troubles.length > 0) process.exitCode = 1;
}

const inNoManifest = (path: string): string =>
  `${path} is in no manifest: it was put there afterwards, and nothing vouches for it.`;

export async function mendCommand(damaged: string, { from }: { readonly from?: string }): Promise<void> {
  if (from === undefined)
    throw new CliError(
      `Expected where the good copy lies, but no --from was given. Say for instance: tyrewall mend "${damaged}" --from "SECOND_DISK/${basename(damaged)}"`,
    );
  const report = await withBoard((board) =>
    mend({ damaged, from, onProgress: (progress) => board.show(standingOfVerify(progress)) }),
  );
  for (const path of report.mended) console.log(onOneLine(`mended ${path}`));
  printTroubles(report.troubles);
  console.log(report.sentence);
  if (report.troubles.length > 0) process.exitCode = 1;
}

export async function addDiskCommand(meeting: string, folder: string): Promise<void> {
  const report = await withBoard((board) =>
    addDisk(meeting, folder, { onProgress: (progress) => board.show(standingOfCard(progress)) }),
  );
  printTroubles(report.troubles);
  console.log(
    report.troubles.length === 0
      ? `${folder} holds the meeting too, read back and alike.`
      : `${folder} is not complete yet. Mend what is named above and run the same command again.`,
  );
  if (report.troubles.length > 0) process.exitCode = 1;
}

async function withBoard<Result>(work: (board: ProgressBoard) => Promise<Result>): Promise<Result> {
  const board = createProgressBoard();
  // The bars hide the cursor; whoever stops half-way gets it back.
  const end = () => {
    board.close();
    process.exit(130);
  };
  process.once('SIGINT', end);
  try {
    return await work(board);
  } finally {
    process.off('SIGINT', end);
    board.close();
  }
}

function printTroubles(troubles: readonly string[]): void {
  const each = [...new Set(troubles)];
  for (const trouble of each.slice(0, mostTroubles)) console.log(onOneLine(trouble));
  if (each.length > mostTroubles) console.log(`… and ${each.length - mostTroubles} more like these.`);
}
