/**
 * Names of files and folders that go out: lower-case letters, digits and "-" alone, so that any file system of any
 * computer, camera or phone takes them and none tells two of them apart that another takes for one.
 */
import type { Exposure, Rider } from '../../arrange/types.js';
import type { BodyKey, FrameId, RiderKey } from '../../ids.js';
import { said } from './said.js';

/** Of paddock, portraits, podium and briefing: no rider looks for them among the laps. */
export const APART_FOLDER = 'paddock-and-podium';

type Named = Pick<Exposure, 'frameId' | 'wall' | 'body' | 'fileNumber'>;

/**
 * By corrected time, body and the camera's number: `20260919-104312-hx7-c4-0047`. Sorted by name they stand in the
 * order they were taken. Without a time they begin with `undated`; where two would be one, both get the frame's own
 * letters behind.
 */
export function namesOf(exposures: readonly Named[]): ReadonlyMap<FrameId, string> {
  const plain = new Map(exposures.map((exposure) => [exposure.frameId, plainName(exposure)]));
  const counts = new Map<string, number>();
  for (const name of plain.values()) counts.set(name, (counts.get(name) ?? 0) + 1);
  return new Map(
    [...plain].map(([frame, name]) => [frame, counts.get(name) === 1 ? name : `${name}-${frame.slice(0, 8)}`]),
  );
}

const plainName = ({ frameId, wall, body, fileNumber }: Named): string =>
  [
    wall === null ? 'undated' : new Date(wall).toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-'),
    bodyWord(body),
    fileNumber === null ? frameId.slice(0, 8) : String(fileNumber).padStart(4, '0'),
  ].join('-');

/** The model, and two digits that tell two bodies of one model apart without saying either's serial number. */
function bodyWord(body: BodyKey): string {
  const [, model = ''] = body.split('|');
  return `${plainWord(model, 12) || 'body'}-${twoDigits(body)}`;
}

/** One folder a rider, by code, number where a person said it, and livery: `n-k-46-black-orange`. */
export function riderFolders(riders: readonly Rider[]): ReadonlyMap<RiderKey, string> {
  const taken = new Set<string>();
  const folders = new Map<RiderKey, string>();
  for (const rider of riders) {
    const wanted =
      plainWord([rider.code, said(rider.number, rider.numberSource), rider.livery].join(' '), 48) || 'rider';
    let folder = wanted;
    for (let more = 2; taken.has(folder); more += 1) folder = `${wanted}-${more}`;
    taken.add(folder);
    folders.set(rider.key, folder);
  }
  return folders;
}

/** Letters without their accents; whatever else is not a letter or digit parts two words. */
function plainWord(text: string, most: number): string {
  const plain = text
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-');
  return plain.replace(/^-/, '').slice(0, most).replace(/-$/, '');
}

/** FNV-1a, folded to 8 bits: enough for the few bodies of a meeting, far too little to lead back to a serial number. */
function twoDigits(text: string): string {
  let hash = 0x811c9dc5;
  for (const character of text) hash = Math.imul(hash ^ character.codePointAt(0)!, 0x01000193) >>> 0;
  const folded = (hash ^ (hash >>> 8) ^ (hash >>> 16) ^ (hash >>> 24)) & 0xff;
  return folded.toString(16).padStart(2, '0');
}
