/** `tyrewall take-out` and `tyrewall take-back`: the way to other programs, and back. */
import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { namesOf } from '../core/finish/index.js';
import type { FrameId } from '../core/ids.js';
import type { DayState } from '../host/day/types.js';
import { lookAtReturned, makeFinals, type Returned, takeOut, takeReturned } from '../host/finish/index.js';
import { rememberLaid } from '../host/law/index.js';
import { CliError } from './cliError.js';
import { publishingOf } from './handOver.js';
import { refuseQuietSuccess, showing } from './handOverCommands.js';
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
    await rememberLaid(whole.meeting.stateFolder, 'taken-out', to);
    const made = finals ? await finalsOf(whole, state, say) : { finals: undefined, refused: 0 };
    const wish = {
      ...wayOf(whole),
      ...(made.finals && { finals: made.finals }),
      to: resolve(to),
      which: all ? 'all' : 'keepers',
    } as const;
    const out = await showing('frames', (report) => takeOut(state, { ...wish, onProgress: report }));
    for (const one of out.missing) say(`! ${onOneLine(one)}`);
    for (const path of out.leftAlone) say(`! ${path} is not as it was laid there, and was left alone.`);
    for (const path of out.takenAway) say(`${path} was taken away: its frame was taken down.`);
    for (const path of out.takenDownThere)
      say(`! ${path} shows a frame that was taken down, but is not as it was laid there; take it away yourself.`);
    say(
      out.frames === 0
        ? 'Nothing to take out: no rider has a keeper yet.'
        : `${counted(out.frames, 'frame')} in ${counted(out.folders, 'folder')} at ${wish.to}, ${counted(out.written, 'file')} new.`,
    );
    refuseQuietSuccess(made.refused + out.missing.length);
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

async function finalsOf(whole: WholeDay, state: DayState, say: Say) {
  const made = await makeFinals(state, wayOf(whole));
  for (const { sentence } of made.failed) say(`! ${onOneLine(sentence)}`);
  const paths = new Map<FrameId, string[]>();
  for (const { frameId, path } of made.pictures) paths.set(frameId, [...(paths.get(frameId) ?? []), path]);
  return { finals: paths as ReadonlyMap<FrameId, readonly string[]>, refused: made.failed.length };
}

export interface TakeBackWish extends MeetingWish {
  readonly take?: boolean;
  readonly byName?: boolean;
}

export async function takeBackCommand(
  folder: string,
  from: string,
  { take = false, byName = false, ...meeting }: TakeBackWish,
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
      believesNames: byName,
    };
    const returned = await lookAtReturned(state, options);
    const nameOf = namesIn(state);
    for (const one of returned) say(onOneLine(sentenceOf(one, nameOf)));
    const sure = returned.filter(({ kind }) => kind === 'attached').length;
    if (sure === 0) say(returned.length === 0 ? `No picture lies in ${from}.` : 'Nothing new to take.');
    else if (!take) say(`${counted(sure, 'picture')} to take; say it again with --take.`);
    else {
      await sayDecisions(folder, meeting, await takeReturned(state, options, returned));
      say(`${counted(sure, 'picture')} taken; the finals are made of them from now on.`);
    }
    refuseQuietSuccess(returned.filter(({ kind }) => kind === 'unreadable').length);
  } finally {
    await whole.close();
  }
}

/** By the name that is one frame's alone, and the camera's, which two bodies may have. */
const namesIn = ({ arrangement: { exposures } }: DayState) => {
  const names = namesOf(exposures);
  const paths = new Map(exposures.map(({ frameId, path }) => [frameId, path]));
  return (frame: FrameId): string => `${names.get(frame) ?? frame} (${paths.get(frame) ?? 'not here'})`;
};

function sentenceOf(one: Returned, nameOf: (frame: FrameId) => string): string {
  switch (one.kind) {
    case 'attached':
      return `${one.path} is ${nameOf(one.frameId)}, by ${one.by.join(', ')}`;
    case 'unsure':
      return `? ${one.path}: ${one.why}; it may be ${one.candidates.map(nameOf).join(' or ')}. Begin its name with its frame's, and say it again; where it was mirrored, turned or framed, with --by-name.`;
    case 'taken-down':
      return `${one.path} is ${nameOf(one.frameId)}, which was taken down; left where it is`;
    case 'unknown':
      return `? ${one.path}: ${one.why}; left where it is`;
    case 'unchanged':
      return `${one.path} is as it went out`;
    case 'already-here':
      return `${one.path} was taken back before`;
    case 'unreadable':
      return `! Expected a whole picture in ${one.path}, but it could not be read (${one.why}); left where it is. Write it out of the other program again`;
  }
}
