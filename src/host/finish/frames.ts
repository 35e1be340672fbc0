/** Which frames are finished, and from which of their files. */
import { join } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import { type Look, type PictureSource, picturesFromElsewhere, takedownsOf } from '../../core/finish/index.js';
import type { FileId, FrameId } from '../../core/ids.js';
import type { DayState } from '../day/types.js';
import { recognise } from '../metadata/mediaKind.js';
import type { MakingWish } from './makeEach.js';

/** The parts of a day's state that finishing needs. */
export type FinishState = Pick<DayState, 'about' | 'fills' | 'arrangement' | 'keepers' | 'log' | 'pixels'> &
  Partial<Pick<DayState, 'metadata'>>;

/** What the meeting's own record does not hold and a published picture needs. */
export interface PublishingWords {
  /** Where riders may write: an e-mail address or a web address. */
  readonly contact?: string;
  readonly usageTerms?: string;
}

export interface FinishOptions extends MakingWish {
  readonly meetingFolder: string;
  readonly publishing?: PublishingWords;
  /** Absolute path of a frame's main image; by default its place under `cards/`. */
  readonly originalOf?: (frame: FrameId) => string | null;
  /** How a frame is to look, once for each of its cuts, the usual one first; by default as the log says. */
  readonly looksOf?: (frame: FrameId) => readonly NamedLook[];
  /** How many are made at once, each in a process of its own; by default one a core and one more. */
  readonly atOnce?: number;
}

export interface NamedLook {
  /** Put behind the file's name, for instance `4x5`; empty for the usual one. */
  readonly name: string;
  readonly look: Look;
}

/** Every keeper's frame once, in the day's order, without what was taken down. */
export function shownKeepers(state: FinishState): readonly Exposure[] {
  const kept = new Set([...state.keepers.byRider.values()].flat().map((keeper) => keeper.bike.frameId));
  const down = takedownsOf(state.arrangement, state.log).frames;
  return state.arrangement.exposures.filter(({ frameId }) => kept.has(frameId) && !down.has(frameId));
}

/** Absolute paths of what may be finished. */
export interface Originals {
  mainOf(exposure: Exposure): string | null;
  rawOf(exposure: Exposure): string | null;
  elsewhereOf(exposure: Exposure): { readonly picture: FileId; readonly path: string } | null;
}

/** Pictures that were finished elsewhere lie here, under the hash of their bytes. */
export const elsewherePath = (meetingFolder: string, { picture, extension }: { picture: FileId; extension: string }) =>
  join(meetingFolder, 'finished', `${picture}.${extension}`);

export function originalsOf(
  state: FinishState,
  { meetingFolder, originalOf }: Pick<FinishOptions, 'meetingFolder' | 'originalOf'>,
): Originals {
  const folders = new Map(state.fills.map((fill) => [fill.id, fill.folder]));
  const placeIn = (folder: string, path: string) => join(meetingFolder, 'cards', folder, ...path.split('/'));
  const raws = new Map(
    state.fills.flatMap((fill) =>
      fill.files
        .filter(({ path }) => isRawName(path) && !fill.gone?.has(path))
        .map(({ fileId, path }) => [fileId, placeIn(fill.folder, path)] as const),
    ),
  );
  const elsewhere = picturesFromElsewhere(state.log);
  return {
    mainOf: ({ frameId, fill, path }) => {
      const folder = folders.get(fill);
      if (originalOf) return originalOf(frameId);
      return folder === undefined ? null : placeIn(folder, path);
    },
    rawOf: ({ files }) => files.map((file) => raws.get(file)).find((path) => path !== undefined) ?? null,
    elsewhereOf: ({ files }) => {
      const found = files.map((file) => elsewhere.get(file)).find((one) => one !== undefined);
      return found === undefined ? null : { picture: found.picture, path: elsewherePath(meetingFolder, found) };
    },
  };
}

const isRawName = (path: string): boolean => recognise(path, Buffer.alloc(1)).media === 'raw';

/** What was finished elsewhere is a person's work and comes first; then the raw where it is wished and there. */
export function sourceOf(
  exposure: Exposure,
  originals: Originals,
  wished: 'camera' | 'raw',
): { readonly source: PictureSource; readonly path: string | null } {
  const elsewhere = originals.elsewhereOf(exposure);
  if (elsewhere) return { source: { kind: 'elsewhere', picture: elsewhere.picture }, path: elsewhere.path };
  const raw = wished === 'raw' ? originals.rawOf(exposure) : null;
  return raw === null
    ? { source: { kind: 'camera' }, path: originals.mainOf(exposure) }
    : { source: { kind: 'raw' }, path: raw };
}
