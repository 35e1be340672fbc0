/** `tyrewall roll-call <meeting> N 08:10 08:25`: bikes that stood in a row, counted; with --riders the head count is said. */
import { wallMsOf } from '../core/units.js';
import { rollCalled } from '../host/cards/index.js';
import { rollCallView } from '../server/index.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay } from './openWholeDay.js';
import { type MeetingWish, sayDecisions } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface RollCallWish extends MeetingWish {
  /** `YYYY-MM-DD`; else the meeting's first. */
  readonly day?: string;
  /** The head count to say. */
  readonly riders?: string;
}

export async function rollCallCommand(
  folder: string,
  group: string,
  [from, to]: readonly [string, string],
  wish: RollCallWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const root = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  const whole = await openWholeDay(folder, { isForLooking: true, ...root });
  const state = await whole.day.settled().finally(() => whole.close());
  const day = wish.day ?? state.about.firstDay;
  const [start, end] = [clockOn(day, from), clockOn(day, to)];
  if (end <= start)
    throw new CliError(`Expected the end after the start but got ${onOneLine(from)} and ${onOneLine(to)}.`);
  const view = rollCallView(state, rollCalled(state, { group, from: start, to: end }), end);
  say(`${view.group.name}: ${view.sentence}`);
  for (const { rider } of view.looks)
    say(`  ${rider === null ? 'a bike in nobody’s set' : `${rider.code} ${rider.words}`}`);
  if (wish.riders === undefined) return;
  const riders = wholeNumber(wish.riders, 0, 999);
  if (riders === null)
    throw new CliError(
      `Expected how many riders of ${view.group.name} there are after --riders but got ${onOneLine(wish.riders)}.`,
    );
  await sayDecisions(folder, root, [{ kind: 'head-count', at: start, group, riders }]);
  say(`${counted(riders, 'rider')} of ${view.group.name} by the head count; who is unseen is reckoned by it.`);
}

function clockOn(day: string, text: string) {
  const parts = /^(\d{1,2}):(\d\d)$/.exec(text);
  const midnight = Date.parse(`${day}T00:00:00Z`);
  const [hours, minutes] = [Number(parts?.[1]), Number(parts?.[2])];
  if (parts !== null && Number.isFinite(midnight) && hours < 24 && minutes < 60)
    return wallMsOf(midnight + (hours * 60 + minutes) * 60_000);
  throw new CliError(`Expected a time of the day, as 08:10, but got ${onOneLine(text)} on ${onOneLine(day)}.`);
}
