/** `tyrewall take-out` and `tyrewall take-back`: the way to other programs, and back. */
import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { FrameId } from '../core/ids.js';
import type { DayState } from '../host/day/types.js';
import { lookAtReturned, makeFinals, type Returned, takeOut, takeReturned } from '../host/finish/index.js';
import { CliError } from './cliError.js';
import { publishingOf } from './handOver.js';
import { showing } from './handOverCommands.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { type MeetingWish, sayDecisions } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

type Say = (line: string) => void;

export interface TakeOutWish extends MeetingWish {
  readonly all?: boolean;
  readonly finals?: boolean;
}

export async function takeOutCommand(
  folder: string,
  to: string,
  { all = false, finals = false, ...meeting }: TakeOutWish,
  say: Say = console.log,
): Promise<void> {
  if (all && finals) {
    throw new CliError('Expected --all or --finals but got both: finals are made of keepers. Say one of them.');
  }
  refuseNoFolder(to, 'to take frames out to');
  const whole = await openWholeDay(folder, { ...meeting, isForLooking: !finals });
  try {
    const state = await whole.day.settled();
    const made = finals ? { finals: await finalsOf(whole, state, say) } : {};
    const wish = { ...wayOf(whole), ...made, to: resolve(to), which: all ? 'all' : 'keepers' } as const;
    const sentence = await showing('frames', async (report) => {
      const { folders, frames, written, leftAlone, missing } = await takeOut(state, { ...wish, onProgress: report });
      for (const one of missing) say(`! ${onOneLine(one)}`);
      for (const path of leftAlone) say(`! ${path} is not as it was laid there, and was left alone.`);
      return frames === 0
        ? 'Nothing to take out: no rider has a keeper yet.'
        : `${counted(frames, 'frame')} in ${counted(folders, 'folder')} at ${wish.to}, ${counted(written, 'file')} new.`;
    });
    say(sentence);
  } finally {
    await whole.close();
  }
}

/** An unset variable of a shell would be the folder one happens to stand in. */
function refuseNoFolder(named: string, what: string): void {
  if (named.trim() === '') throw new CliError(`Expected a folder ${what} but its name is empty. Name one.`);
}

const wayOf = ({ meeting, day }: WholeDay) => ({
  meetingFolder: meeting.folder,
  originalOf: (frame: FrameId) => day.original(frame),
  publishing: publishingOf(meeting),
});

async function finalsOf(whole: WholeDay, state: DayState, say: Say): Promise<ReadonlyMap<FrameId, readonly string[]>> {
  const made = await makeFinals(state, wayOf(whole));
  for (const { sentence } of made.failed) say(`! ${onOneLine(sentence)}`);
  const paths = new Map<FrameId, string[]>();
  for (const { frameId, path } of made.pictures) paths.set(frameId, [...(paths.get(frameId) ?? []), path]);
  return paths;
}

export interface TakeBackWish extends MeetingWish {
  readonly take?: boolean;
}

export async function takeBackCommand(
  folder: string,
  from: string,
  { take = false, ...meeting }: TakeBackWish,
  say: Say = console.log,
): Promise<void> {
  const place = await stat(from).catch(() => null);
  if (!place?.isDirectory()) {
    throw new CliError(`Expected a folder with finished pictures at ${onOneLine(from)}, but there is none.`);
  }
  const whole = await openWholeDay(folder, { ...meeting, isForLooking: true });
  try {
    const state = await whole.day.settled();
    const options = {
      meetingFolder: whole.meeting.folder,
      from: resolve(from),
      pictureOf: (frame: FrameId) => whole.day.picture(frame),
    };
    const returned = await lookAtReturned(state, options);
    const nameOf = namesIn(state);
    for (const one of returned) say(onOneLine(sentenceOf(one, nameOf)));
    const sure = returned.filter(({ kind }) => kind === 'attached').length;
    if (sure === 0) return say(returned.length === 0 ? `No picture lies in ${from}.` : 'Nothing new to take.');
    if (!take) return say(`${counted(sure, 'picture')} to take; say it again with --take.`);
    await sayDecisions(folder, meeting, await takeReturned(state, options, returned));
    say(`${counted(sure, 'picture')} taken; the finals are made of them from now on.`);
  } finally {
    await whole.close();
  }
}

const namesIn = (state: DayState) => {
  const paths = new Map(state.arrangement.exposures.map(({ frameId, path }) => [frameId, path]));
  return (frame: FrameId): string => paths.get(frame) ?? frame;
};

function sentenceOf(one: Returned, nameOf: (frame: FrameId) => string): string {
  switch (one.kind) {
    case 'attached':
      return `${one.path} is ${nameOf(one.frameId)}, by ${one.by.join(', ')}`;
    case 'unsure':
      return `? ${one.path}: ${one.why}; it may be ${one.candidates.map(nameOf).join(' or ')}. Give it that frame's name and say it again.`;
    case 'unknown':
      return `? ${one.path}: ${one.why}; left where it is`;
    case 'unchanged':
      return `${one.path} is as it went out`;
    case 'already-here':
      return `${one.path} was taken back before`;
    case 'unreadable':
      return `! Expected a picture in ${one.path}, but ${one.why}; left where it is`;
  }
}
