/**
 * The way out: every rider's frames in a folder of their own, as the camera wrote them with a sidecar beside each, or
 * finished with the words inside; and one list of it all that any spreadsheet opens.
 */
import type { Arrangement, Exposure, Rider } from '../../arrange/types.js';
import type { Keepers } from '../../choose/types.js';
import type { FrameId, RiderKey } from '../../ids.js';
import { xmpSidecar } from '../words/iptc.js';
import { finalWords, type MeetingWords, ridersByFrame } from '../words/wordsOf.js';
import { APART_FOLDER, namesOf, riderFolders } from './names.js';
import { said } from './said.js';

/** One frame in one rider's folder; what is copied there is the host's to find. */
export interface OutFrame {
  readonly exposure: Exposure;
  readonly folder: string;
  /** Without an extension. */
  readonly name: string;
  readonly sidecar: string;
}

export interface OutPlan {
  readonly frames: readonly OutFrame[];
  /** Comma-separated, RFC 4180. */
  readonly list: string;
}

export interface OutWish {
  readonly about: MeetingWords;
  readonly arrangement: Arrangement;
  readonly keepers: Keepers;
  /** Frames kept apart from the sessions that are finished: they have a folder of their own. */
  readonly apart: ReadonlySet<FrameId>;
  /** Taken down: they go nowhere. */
  readonly without: ReadonlySet<FrameId>;
  /** Keepers alone, or every frame of the day; frames of nobody then lie in `no-rider`. */
  readonly which: 'keepers' | 'all';
}

const NOBODY = 'no-rider';

export function planWayOut(wish: OutWish): OutPlan {
  const { about, arrangement } = wish;
  const names = namesOf(arrangement.exposures);
  const folders = riderFolders(arrangement.riders);
  const riders = ridersByFrame(arrangement);
  const frames = arrangement.exposures
    .filter(({ frameId }) => !wish.without.has(frameId))
    .flatMap((exposure) => {
      const inIt = riders.get(exposure.frameId) ?? [];
      const sidecar = xmpSidecar(finalWords(exposure, about, arrangement, inIt));
      return foldersFor(exposure, inIt, folders, wish).map((folder) => ({
        exposure,
        folder,
        name: names.get(exposure.frameId)!,
        sidecar,
      }));
    });
  return { frames, list: listOf(frames, wish, riders) };
}

function foldersFor(
  { frameId }: Exposure,
  inIt: readonly Rider[],
  folders: ReadonlyMap<RiderKey, string>,
  { keepers, apart, which }: OutWish,
): readonly string[] {
  const riders = which === 'all' ? inIt.map(({ key }) => key) : keptBy(frameId, keepers);
  if (riders.length > 0) return riders.map((rider) => folders.get(rider)!);
  if (apart.has(frameId)) return [APART_FOLDER];
  return which === 'all' ? [NOBODY] : [];
}

const keptBy = (frameId: FrameId, { byRider }: Keepers): readonly RiderKey[] =>
  [...byRider].filter(([, kept]) => kept.some(({ bike }) => bike.frameId === frameId)).map(([rider]) => rider);

function listOf(
  frames: readonly OutFrame[],
  { about, arrangement }: OutWish,
  riders: ReadonlyMap<FrameId, readonly Rider[]>,
): string {
  const rows = frames.map(({ exposure, folder, name }) => {
    const { frameId, path, wall, session, spot } = exposure;
    const inIt = riders.get(frameId) ?? [];
    return [
      folder,
      name,
      path,
      wall === null ? '' : new Date(wall).toISOString().slice(0, 23).replace('T', ' '),
      session === null ? '' : (arrangement.sessions[session]?.name ?? ''),
      about.spots.find(({ id }) => id === spot)?.name ?? '',
      inIt.map(({ code }) => code).join(' '),
      inIt
        .map((rider) => said(rider.number, rider.numberSource))
        .filter(Boolean)
        .join(' '),
    ];
  });
  const head = ['folder', 'name', 'on the card', 'taken', 'session', 'spot', 'riders', 'numbers'];
  return [head, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** A cell that begins like a formula is made text, since spreadsheets carry formulas out. */
const cell = (text: string): string => {
  const safe = /^[=+\-@\t]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};
