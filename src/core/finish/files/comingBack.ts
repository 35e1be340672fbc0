/**
 * To which frame a picture that comes back belongs. What it shows decides; when it was taken and what it is called say
 * which of a burst. A picture is attached only where they agree, else it is a question with the likeliest frames.
 * The limits are this project's choice, set on rendered frames that were cut, toned, made grey and turned by a degree.
 */
import type { FrameId } from '../../ids.js';

export type Clue = 'content' | 'time' | 'name';

export interface Candidate {
  readonly frameId: FrameId;
  /** From `likeness`, 0–1. */
  readonly likeness: number;
  readonly hasSameTime: boolean;
  readonly hasSameName: boolean;
  /** Called by the name that went out, which is one frame's alone; a camera's own may be two bodies'. */
  readonly hasOurName: boolean;
}

export type ComingBack =
  | { readonly kind: 'attached'; readonly frameId: FrameId; readonly by: readonly Clue[]; readonly likeness: number }
  /** Likeliest first. */
  | { readonly kind: 'unsure'; readonly candidates: readonly FrameId[]; readonly why: string }
  | { readonly kind: 'unknown'; readonly why: string };

/** At least so alike where time and name both say it is this frame, where one of them does, and where neither does. */
const LEAST = { both: 0.5, one: 0.6, none: 0.8 } as const;
/** No other frame may be more alike than this beyond the one that time or name points at. */
const TOLERATED = 0.05;
/** Alone, content must leave the next frame so far behind: neighbours of a burst are alike. */
const MARGIN = 0.1;
const MOST_ASKED = 3;

/** @param believesNames a person said so, of what is mirrored, turned or framed and looks like nothing here any more */
export function comingBack(candidates: readonly Candidate[], believesNames = false): ComingBack {
  const found = byWhatItShows(candidates);
  const named = candidates.filter(({ hasOurName }) => hasOurName);
  if (found.kind === 'attached' || !believesNames || named.length !== 1) return found;
  const [{ frameId, likeness }] = named as [Candidate];
  return { kind: 'attached', frameId, by: ['name'], likeness };
}

function byWhatItShows(candidates: readonly Candidate[]): ComingBack {
  const byLikeness = [...candidates].sort((a, b) => b.likeness - a.likeness);
  const best = byLikeness[0];
  if (!best) return { kind: 'unknown', why: 'no frame has its time or name, and none looks like it' };
  const pointed = pointedAt(byLikeness);
  return pointed === null ? byContent(byLikeness) : byClues(pointed, best.likeness, byLikeness);
}

/** The frames with most clues: both before one. Null where no frame has any. */
function pointedAt(candidates: readonly Candidate[]): readonly Candidate[] | null {
  const clues = (one: Candidate) => Number(one.hasSameTime) + Number(one.hasSameName);
  const most = Math.max(...candidates.map(clues));
  return most === 0 ? null : candidates.filter((one) => clues(one) === most);
}

function byClues(pointed: readonly Candidate[], greatest: number, all: readonly Candidate[]): ComingBack {
  const [first, next] = pointed as readonly [Candidate, Candidate?];
  if (pointed.some((one) => one.hasSameTime !== first.hasSameTime)) {
    return { kind: 'unsure', candidates: asked(pointed), why: 'its name says one frame and its time another' };
  }
  const least = first.hasSameTime && first.hasSameName ? LEAST.both : LEAST.one;
  if (first.likeness < least) {
    const why = `it has a frame's ${cluesOf(first).join(' and ')} and looks different`;
    return { kind: 'unsure', candidates: asked([first, ...all]), why };
  }
  if (greatest - first.likeness > TOLERATED) {
    const why = `it has one frame's ${cluesOf(first).join(' and ')} and looks more like another`;
    return { kind: 'unsure', candidates: asked([first, ...all]), why };
  }
  if (next && first.likeness - next.likeness < TOLERATED) {
    return { kind: 'unsure', candidates: asked(pointed), why: 'several frames have its time or name and look like it' };
  }
  return { kind: 'attached', frameId: first.frameId, by: ['content', ...cluesOf(first)], likeness: first.likeness };
}

function byContent([first, next]: readonly Candidate[]): ComingBack {
  if (!first || first.likeness < LEAST.one) return { kind: 'unknown', why: 'no frame looks like it' };
  const isClear = first.likeness >= LEAST.none && first.likeness - (next?.likeness ?? 0) >= MARGIN;
  if (isClear) return { kind: 'attached', frameId: first.frameId, by: ['content'], likeness: first.likeness };
  const why = 'it has neither time nor name of a frame, and more than one looks like it';
  return { kind: 'unsure', candidates: asked(next ? [first, next] : [first]), why };
}

const cluesOf = (one: Candidate): readonly ('time' | 'name')[] => [
  ...(one.hasSameTime ? (['time'] as const) : []),
  ...(one.hasSameName ? (['name'] as const) : []),
];

const asked = (candidates: readonly Candidate[]): readonly FrameId[] =>
  [...new Set(candidates.map(({ frameId }) => frameId))].slice(0, MOST_ASKED);

/**
 * Whether a file's name is a frame's: it begins with the name we gave it, or with the camera's own, and then ends or goes
 * on with a sign that is no letter or digit (`hx7_0047-2.jpg`, `20260919-104312-hx7-c4-0047 print.tif`).
 */
export function hasName(fileName: string, name: string): boolean {
  const [file, wanted] = [fileName.toLowerCase(), name.toLowerCase()];
  return wanted !== '' && file.startsWith(wanted) && !/^[a-z0-9]/.test(file.slice(wanted.length));
}
