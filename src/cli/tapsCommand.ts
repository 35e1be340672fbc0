/** `tyrewall taps <meeting> <file>`: what was tapped on the phone, shown first and then taken. */
import { readFile } from 'node:fs/promises';
import { meaningOf } from '../host/bringin/index.js';
import type { DayState } from '../host/day/types.js';
import { openMeeting } from '../host/meeting/index.js';
import { daysGiven, type HeardTaps, hearTaps } from '../host/pocket/index.js';
import { tapsView } from '../server/index.js';
import { askDesk, deskAddressIn } from './askDesk.js';
import { CliError } from './cliError.js';
import { openWholeDay } from './openWholeDay.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface TapsWish extends MeetingWish {
  readonly take?: boolean;
}

const STANDS = { new: '', said: ' (said already)', 'taken-back': ' (taken back here, and stays so)' } as const;

export async function tapsCommand(
  folder: string,
  file: string,
  { take = false, ...meeting }: TapsWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const text = await readFile(file, 'utf8').catch((problem: Error) => {
    throw new CliError(
      `Expected the file that the phone saved at ${onOneLine(file)} but ${meaningOf(problem)}. Look at its name.`,
    );
  });
  const state = await stateOf(folder, meeting);
  const heard = await hearTaps(text, state, await daysGiven(folder));
  if (heard.kind === 'refused') throw new CliError(heard.sentence);
  const view = tapsView(state, heard);
  for (const { text: words, is, follows } of view.taps) {
    say(onOneLine(`${words}${STANDS[is]}`));
    for (const sentence of follows) say(onOneLine(`  ${sentence}`));
  }
  for (const note of view.notes) say(`! ${onOneLine(note)}`);
  const fresh = heard.taps.filter(({ is }) => is === 'new');
  if (fresh.length === 0) return say('Nothing new was tapped.');
  if (!take) return say(`${counted(fresh.length, 'tap')} to take; say it again with --take.`);
  await takeTaps(folder, meeting, text, fresh);
  say(`${counted(fresh.length, 'tap')} taken.`);
}

async function stateOf(folder: string, meeting: MeetingWish): Promise<DayState> {
  const whole = await openWholeDay(folder, { isForLooking: true, ...meeting });
  return whole.day.settled().finally(() => whole.close());
}

/** Each tap is a gesture of its own, with its own name: taken twice it is one. */
async function takeTaps(
  folder: string,
  wish: MeetingWish,
  text: string,
  taps: Extract<HeardTaps, { kind: 'heard' }>['taps'],
): Promise<void> {
  const meeting = await openMeeting(folder, wish).catch(async (error: unknown) => {
    const address = deskAddressIn(error);
    if (address === null) throw error;
    await askDesk(address, '/api/taps/say', { text });
    return null;
  });
  if (meeting === null) return;
  try {
    for (const { gesture, decision } of taps) await meeting.log.append(gesture, [decision]);
  } finally {
    await meeting.close();
  }
}
