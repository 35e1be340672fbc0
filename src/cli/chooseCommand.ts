/** `tyrewall choose <meeting>`: keepers of every rider, the thin ones first; with quotas they are said, with --rider one set with its whys. */
import { startChoosing } from '../core/choose/index.js';
import type { ChooseRules } from '../core/choose/types.js';
import type { Decision, FoldedLog } from '../core/log/types.js';
import { rememberingChooseInput } from '../host/day/chooseInput.js';
import { chosenLines, setLines } from './chosenLines.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay } from './openWholeDay.js';
import { lookAt, type MeetingWish, sayDecisions } from './sayDecisions.js';
import { onOneLine } from './words.js';

export interface ChooseWish extends MeetingWish {
  readonly mostPerRider?: string;
  readonly mostPerSpot?: string;
  readonly mostInAll?: string;
  readonly leastPerRider?: string;
  /** A rider's code, for instance `N-ka`. */
  readonly rider?: string;
}

type Quotas = Extract<Decision, { kind: 'choose-rules' }>;

export async function chooseCommand(
  folder: string,
  wish: ChooseWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const root: MeetingWish = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  const { log } = await lookAt(folder, root);
  const quotas = quotasOf(wish, log);
  if (quotas !== null) await sayDecisions(folder, root, [quotas]);
  const whole = await openWholeDay(folder, { isForLooking: true, ...root });
  const state = await whole.day.settled().finally(() => whole.close());
  const choosing = startChoosing(rememberingChooseInput()(state));
  if (wish.rider === undefined) for (const line of chosenLines(state.arrangement, choosing)) say(line);
  else for (const line of setLines(state, choosing, wish.rider)) say(line);
}

const QUOTAS = [
  { key: 'mostPerRider', flag: '--most-per-rider', from: 1, to: 200 },
  { key: 'mostPerSpot', flag: '--most-per-spot', from: 1, to: 200 },
  { key: 'mostInAll', flag: '--most-in-all', from: 1, to: 100_000 },
  { key: 'leastPerRider', flag: '--least-per-rider', from: 0, to: 200 },
] as const;

/** What was said before stays, but for what is said now; null: no quota was named. */
function quotasOf(wish: ChooseWish, log: FoldedLog): Quotas | null {
  const said = QUOTAS.flatMap(({ key, flag, from, to }) => {
    const text = wish[key];
    if (text === undefined) return [];
    const count = wholeNumber(text, from, to);
    if (count !== null) return [[key, count] as const];
    throw new CliError(
      `Expected how many after ${flag}, from ${from} to ${to}, but got ${onOneLine(text)}. Nothing was said.`,
    );
  });
  if (said.length === 0) return null;
  const before = log.inForce.findLast(({ decision }) => decision.kind === 'choose-rules')?.decision;
  const all = { ...(before as Quotas | undefined), kind: 'choose-rules', ...Object.fromEntries(said) } as Quotas;
  return refusingMixedUp(all);
}

function refusingMixedUp(all: Quotas & Partial<ChooseRules>): Quotas {
  const { leastPerRider: least, mostPerRider: most } = all;
  if (least === undefined || most === undefined || least <= most) return all;
  throw new CliError(
    `Expected the least for a rider to be no more than the most, but the least is ${least} and the most ${most}. Say both anew.`,
  );
}
