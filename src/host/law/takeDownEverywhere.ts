/**
 * One request to be taken down, carried to every place that shows it, with a proof in `made/taken-down/`. A place that cannot be
 * reached, or cannot let go of everything, stays pending in the proof until a later run clears it. Rules LW10, LW11.
 */
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import {
  isWhole,
  type PlaceCleared,
  proofText,
  provedAgain,
  type TakeDownProof,
} from '../../core/handover/law/index.js';
import type { GestureId } from '../../core/ids.js';
import { epochMsOf } from '../../core/units.js';
import { writeWhole } from '../meeting/writeWhole.js';
import type { Down } from './down.js';
import { LawError } from './lawError.js';
import type { Earlier, PlaceToClear } from './placesHere.js';

export interface TakeDownRun {
  readonly meetingFolder: string;
  readonly meeting: string;
  readonly gesture: GestureId;
  readonly asked: TakeDownProof['asked'];
  readonly down: Down;
  readonly places: readonly PlaceToClear[];
  readonly now: () => number;
}

export interface Proved {
  readonly proof: TakeDownProof;
  /** Of the text; the same as data lies beside it. */
  readonly path: string;
}

/** Written before the first place is spoken to, with all of them pending: a kill leaves the request standing. */
export async function takeDownAt(run: TakeDownRun): Promise<Proved> {
  const before = await readProof(run.meetingFolder, run.gesture);
  const standing: PlaceCleared[] = run.places.map(({ place, kind }) => ({
    place,
    kind,
    standing: 'pending',
    removed: [],
    sentence: 'Not reached yet.',
  }));
  let proved = await write(run, before, standing);
  for (const [i, place] of run.places.entries()) {
    const lost = before?.places.find((one) => one.place === place.place)?.removed ?? [];
    const earlier = { saidAt: before?.saidAt ?? run.now(), hasLost: lost.length > 0 };
    standing[i] = await clearedOf(place, run.down, earlier);
    proved = await write(run, before, standing);
  }
  return proved;
}

async function clearedOf(place: PlaceToClear, down: Down, earlier: Earlier): Promise<PlaceCleared> {
  const head = { place: place.place, kind: place.kind };
  try {
    const { removed, pending } = await place.clear(down, earlier);
    return pending === null
      ? { ...head, standing: 'cleared', removed }
      : { ...head, standing: 'pending', removed, sentence: pending };
  } catch (problem) {
    return { ...head, standing: 'pending', removed: [], sentence: (problem as Error).message };
  }
}

async function write(run: TakeDownRun, before: TakeDownProof | null, places: readonly PlaceCleared[]): Promise<Proved> {
  const at = epochMsOf(run.now());
  const now: TakeDownProof = {
    v: 1,
    meeting: run.meeting,
    gesture: run.gesture,
    saidAt: at,
    provedAt: at,
    asked: run.asked,
    addresses: [...run.down.ids].sort(),
    places,
  };
  const proof = before === null ? now : provedAgain(before, now);
  const folder = folderOf(run.meetingFolder);
  await mkdir(folder, { recursive: true });
  await writeWhole(join(folder, `${run.gesture}.json`), `${JSON.stringify(proof, null, 1)}\n`);
  const path = join(folder, `${run.gesture}.txt`);
  await writeWhole(path, proofText(proof));
  return { proof, path };
}

const folderOf = (meetingFolder: string): string => join(meetingFolder, 'made', 'taken-down');

const removed = z.array(z.object({ what: z.string(), sha256: z.string().nullable(), bytes: z.number().nullable() }));
const place = { place: z.string(), kind: z.string(), removed };
const proofFile = z.object({
  v: z.literal(1),
  meeting: z.string(),
  gesture: z.string(),
  saidAt: z.number(),
  provedAt: z.number(),
  asked: z.enum(['frames', 'rider', 'person']),
  addresses: z.array(z.string()),
  places: z.array(
    z.discriminatedUnion('standing', [
      z.object({ ...place, standing: z.literal('cleared') }),
      z.object({ ...place, standing: z.literal('pending'), sentence: z.string() }),
    ]),
  ),
});

async function readProof(meetingFolder: string, gesture: string): Promise<TakeDownProof | null> {
  const path = join(folderOf(meetingFolder), `${gesture}.json`);
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return null;
  try {
    return proofFile.parse(JSON.parse(text)) as unknown as TakeDownProof;
  } catch (cause) {
    const sentence = `Expected the proof of a takedown in ${path} but it holds something else. Move it away, then say the takedown again.`;
    throw new LawError(sentence, path, cause);
  }
}

/** Every proof, the ones still pending first. */
export async function proofsOf(meetingFolder: string): Promise<readonly TakeDownProof[]> {
  const names = (await readdir(folderOf(meetingFolder)).catch(() => [])).filter((name) => name.endsWith('.json'));
  const proofs = await Promise.all(names.sort().map((name) => readProof(meetingFolder, name.slice(0, -5))));
  return proofs.filter((proof) => proof !== null).sort((a, b) => Number(isWhole(a)) - Number(isWhole(b)));
}
