/** Slips that were said before: one said twice is questioned, and the last can be taken back. */
import type { GestureId } from '../core/ids.js';
import type { FoldedLog } from '../core/log/types.js';
import type { Slip } from '../core/plan/timetable/types.js';
import { slipSentence } from '../server/views/said.js';
import { askDesk } from './askDesk.js';
import { CliError } from './cliError.js';
import { type MeetingWish, sayTo } from './sayDecisions.js';
import { counted } from './words.js';

/** Who types a line again so soon mostly did not see that it was taken. */
const SOON_MS = 10 * 60_000;
const MINUTE_MS = 60_000;

export function refuseTwice(log: FoldedLog, slip: Slip, now: number): void {
  const before = log.inForce.findLast(({ decision }) => decision.kind === 'slip' && isSame(decision.slip, slip));
  if (before === undefined || Math.abs(now - before.line.at) > SOON_MS) return;
  const ago = Math.max(0, Math.floor((now - before.line.at) / MINUTE_MS));
  throw new CliError(
    `Nothing is said yet: “${slipSentence(slip)}” was said ${ago === 0 ? 'just now' : `${ago} min ago`}, and would be added to that. If it slipped once more, say it again with --yes.`,
  );
}

/** Lunch begins elsewhere after the first slip of it. */
const isSame = (a: Slip, b: Slip): boolean =>
  a.kind === 'lunch-shorter' && b.kind === 'lunch-shorter'
    ? a.byMs === b.byMs && dayOf(a.at) === dayOf(b.at)
    : wordsOf(a) === wordsOf(b);

const dayOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);
const wordsOf = (slip: Slip): string => JSON.stringify(Object.entries(slip).sort());

/** By a line that withdraws the gesture; says what was taken back and what still stands. */
export async function takeSlipBack(folder: string, wish: MeetingWish, log: FoldedLog): Promise<string> {
  const last = log.inForce.findLast(({ decision }) => decision.kind === 'slip' || decision.kind === 'timetable');
  if (last === undefined) throw new CliError(NOTHING);
  const words = last.decision.kind === 'slip' ? slipSentence(last.decision.slip) : joinedWords(log);
  if (words === null) throw new CliError(NOTHING);
  const gesture: GestureId = last.line.gesture;
  await sayTo(
    folder,
    wish,
    () => [{ kind: 'withdraw', gesture }],
    (address) => askDesk(address, '/api/undo', { gesture }),
  );
  const left = log.inForce.filter(({ decision, line }) => decision.kind === 'slip' && line.gesture !== gesture);
  return `Taken back: ${words}. ${left.length === 0 ? 'No slip is left' : `${counted(left.length, 'slip')} said before ${left.length === 1 ? 'stays' : 'stay'}`}.`;
}

const NOTHING = 'Expected a slip to take back, but none was said since the timetable was taken.';

/** By the clock a group more is another timetable (PL219); null where the last one is no such. */
function joinedWords({ inForce }: FoldedLog): string | null {
  const said = inForce.flatMap(({ decision }) => (decision.kind === 'timetable' ? [decision.timetable.groups] : []));
  const [before, after] = [said.at(-2), said.at(-1)];
  if (!before || !after || after.length !== before.length + 1) return null;
  return before.every(({ key }, i) => after[i]!.key === key) ? `${after.at(-1)!.name} joined the timetable` : null;
}
