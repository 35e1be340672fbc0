/** Which pictures go to the organiser: as proposed and changed by a word, or as they chose themselves. */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { namesOf } from '../core/finish/index.js';
import {
  namedPictures,
  type OrganiserSet,
  readChoice,
  type SetPicture,
  type SetWish,
} from '../core/handover/organiser/index.js';
import type { FrameId } from '../core/ids.js';
import { plain } from '../core/plan/timetable/index.js';
import { rememberingChooseInput } from '../host/day/chooseInput.js';
import type { DayState } from '../host/day/types.js';
import { candidatesInput, organiserSet, type readHanded } from '../host/organiser/index.js';
import { readTable } from '../host/plan/tables/readTable.js';
import { CliError } from './cliError.js';
import { picturesOf } from './organiserWords.js';
import { onOneLine } from './words.js';

export interface SetTyped {
  /** This time; `agreedPictures` stays said. */
  readonly pictures?: string;
  readonly class?: readonly string[];
  readonly only?: string;
  readonly with?: readonly string[];
  readonly without?: readonly string[];
}

export interface Known {
  readonly state: DayState;
  readonly say: (line: string) => void;
  readonly handed: Awaited<ReturnType<typeof readHanded>>;
}

export function proposedSet({ state, say }: Known, wish: SetTyped): OrganiserSet {
  const choosing = rememberingChooseInput()(state);
  const asked: Partial<SetWish> = {
    ...(wish.pictures === undefined ? {} : { pictures: picturesOf(wish.pictures) }),
    ...(wish.class === undefined ? {} : { groups: wish.class.map((word) => groupOf(word, state)) }),
    ...(wish.only === undefined ? {} : { only: onlyOf(wish.only) }),
  };
  const proposed = organiserSet(state, choosing, asked);
  const framesOf = (words: readonly string[] = []): readonly FrameId[] => {
    const sheet = {
      at: 0,
      wall: 0,
      is: 'set',
      pictures: proposed.pictures.map(({ number, frameId }) => ({ number, frameId, file: '' })),
    };
    const { frames, left } = readChoice(words, { ...namesIn(state), sheet: sheet as never });
    for (const sentence of left) say(`! ${onOneLine(sentence)}`);
    return frames;
  };
  const withFrames = framesOf(wish.with);
  const withoutFrames = framesOf(wish.without);
  if (withFrames.length + withoutFrames.length === 0) return proposed;
  return organiserSet(state, choosing, { ...asked, withFrames, withoutFrames });
}

const namesIn = ({ arrangement }: DayState) => ({
  exposures: arrangement.exposures,
  names: namesOf(arrangement.exposures),
});

export async function chosenSet(
  { state, handed }: Known,
  path: string,
): Promise<{ readonly pictures: readonly SetPicture[]; readonly lacks: readonly string[] }> {
  const { rows } = await readTable(basename(path), await bytesOf(path));
  const cells = rows.flatMap((row) => row.cells);
  const { frames, left } = readChoice(cells, { ...namesIn(state), sheet: handed.at(-1) ?? null });
  const named = namedPictures(frames, candidatesInput(state, rememberingChooseInput()(state)));
  const down = named.left.map(() => 'One of them was taken down or is held back, so it is not handed over.');
  return { pictures: named.pictures, lacks: [...left, ...down] };
}

export function setLines(pictures: readonly SetPicture[], state: DayState): readonly string[] {
  const names = namesOf(state.arrangement.exposures);
  return pictures.map(({ number, frameId, source, reasons }) => {
    const mark = source === 'said' ? '!' : ' ';
    return `${String(number).padStart(3)}${mark} ${names.get(frameId)}  ${reasons.slice(0, 3).join('; ')}`;
  });
}

export const bytesOf = (path: string): Promise<Buffer> =>
  readFile(path).catch((cause: Error) => {
    throw new CliError(`Expected the organiser's list in ${path} but it could not be read: ${cause.message}.`, {
      cause,
    });
  });

function groupOf(text: string, { timetable }: DayState): string {
  const groups = timetable?.groups ?? [];
  const found = groups.find(({ key, name }) => plain(key) === plain(text) || plain(name) === plain(text));
  if (found) return found.key;
  const names = groups.map(({ name }) => name).join(', ');
  throw new CliError(`Expected a group of the timetable (${names || 'there is none'}) but got ${onOneLine(text)}.`);
}

function onlyOf(text: string): SetWish['only'] {
  if (text === 'podium' || text === 'boards') return text;
  throw new CliError(`Expected podium or boards after --only but got ${onOneLine(text)}.`);
}
