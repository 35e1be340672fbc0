/**
 * How a meeting stands at its places, in `made/put-up/`: for each place what was put there and how the last run ended.
 * What was taken down and still lies somewhere is reckoned from that, so it is told until the place has let go of it.
 */
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { idsIn } from '../../core/handover/putUp/index.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { readNotes } from './notes.js';

const standingFile = z.object({
  v: z.literal(1),
  /** Of the edition whose entry stands there, and since when. */
  edition: z.string().nullable(),
  at: z.string().nullable(),
  files: z.number(),
  bytes: z.number(),
  /** Taken down, and not yet known to be gone from there. */
  pending: z.object({ since: z.string(), paths: z.array(z.string()) }).nullable(),
  failed: z.object({ at: z.string(), sentence: z.string() }).nullable(),
});
type StandingFile = z.infer<typeof standingFile>;

export interface PutUpStanding extends Omit<StandingFile, 'v'> {
  readonly place: string;
}

const NOWHERE: StandingFile = { v: 1, edition: null, at: null, files: 0, bytes: 0, pending: null, failed: null };

const folderOf = (meetingFolder: string): string => join(meetingFolder, 'made', 'put-up');
const fileOf = (meetingFolder: string, place: string): string => join(folderOf(meetingFolder), `${place}.json`);
export const notesOf = (meetingFolder: string, place: string): string =>
  join(folderOf(meetingFolder), `${place}.notes.jsonl`);
/** Pages of the gallery with one picture a rider, which go up first. */
export const firstPagesOf = (meetingFolder: string, edition: string): string =>
  join(folderOf(meetingFolder), 'first', edition);

async function readStanding(meetingFolder: string, place: string): Promise<StandingFile> {
  const text = await readFile(fileOf(meetingFolder, place), 'utf8').catch(() => null);
  if (text === null) return NOWHERE;
  try {
    return standingFile.parse(JSON.parse(text));
  } catch {
    // It can be reckoned again: the next run lists the place.
    return NOWHERE;
  }
}

export async function changeStanding(
  meetingFolder: string,
  place: string,
  change: Partial<Omit<StandingFile, 'v'>>,
): Promise<void> {
  const now = { ...(await readStanding(meetingFolder, place)), ...change };
  await mkdir(folderOf(meetingFolder), { recursive: true });
  await writeWhole(fileOf(meetingFolder, place), `${JSON.stringify(now, null, 1)}\n`);
}

/** Noted as lying at a place although it was taken down. */
export async function stillThere(
  meetingFolder: string,
  place: string,
  withdrawn: ReadonlySet<string>,
): Promise<readonly string[]> {
  if (withdrawn.size === 0) return [];
  const notes = await readNotes(notesOf(meetingFolder, place));
  return [...notes.keys()].filter((path) => idsIn(path).some((id) => withdrawn.has(id)));
}

/** Every place this meeting was put up to, for terminal and desk. */
export async function putUpStandings(
  meetingFolder: string,
  withdrawn: ReadonlySet<string>,
  now: Date,
): Promise<readonly PutUpStanding[]> {
  const names = await readdir(folderOf(meetingFolder)).catch(() => []);
  const places = names.flatMap((name) => /^([\w-]+)\.json$/.exec(name)?.[1] ?? []).sort();
  return Promise.all(
    places.map(async (place) => {
      const { v: _, ...standing } = await readStanding(meetingFolder, place);
      const paths = new Set([
        ...(standing.pending?.paths ?? []),
        ...(await stillThere(meetingFolder, place, withdrawn)),
      ]);
      const since = standing.pending?.since ?? now.toISOString();
      return { place, ...standing, pending: paths.size === 0 ? null : { since, paths: [...paths] } };
    }),
  );
}
