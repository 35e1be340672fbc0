/**
 * Places by the names the photographer gave them, in `places.json` of this machine's state folder, which only its user
 * may read: it holds passwords and keys, which have no business in a meeting's folder (decisions/010, 6).
 */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { writeWhole } from '../meeting/writeWhole.js';
import { PutUpError } from './putUpError.js';
import type { PlaceAddress } from './types.js';

const address = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('folder'), folder: z.string() }),
  z.object({
    kind: z.literal('sftp'),
    host: z.string(),
    port: z.number(),
    user: z.string(),
    folder: z.string(),
    hostKey: z.string(),
    privateKeyFile: z.string().nullable(),
    secret: z.string().nullable(),
  }),
  z.object({
    kind: z.literal('s3'),
    bucket: z.string(),
    folder: z.string(),
    endpoint: z.string().nullable(),
    region: z.string(),
    keyId: z.string(),
    secret: z.string(),
  }),
]) satisfies z.ZodType<PlaceAddress>;
const placesFile = z.object({ v: z.literal(1), places: z.record(z.string(), address) });

export type Places = ReadonlyMap<string, PlaceAddress>;

const pathOf = (stateRoot: string): string => join(stateRoot, 'places.json');
const FOR_ME = 0o600;

export async function knownPlaces(stateRoot: string): Promise<Places> {
  const path = pathOf(stateRoot);
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (text === null) return new Map();
  try {
    return new Map(Object.entries(placesFile.parse(JSON.parse(text)).places));
  } catch (cause) {
    const sentence = `Expected the places of this machine in ${path}, but it holds something else. Remove the file and say your places again.`;
    throw new PutUpError(sentence, path, { cause });
  }
}

const NAME = /^[A-Za-z0-9][A-Za-z0-9_-]{0,31}$/;

export async function keepPlace(stateRoot: string, name: string, place: PlaceAddress): Promise<void> {
  if (!NAME.test(name)) {
    const sentence = `Expected a name of letters, digits, "-" and "_" for the place, at most 32 of them, but got "${name}". Say for instance website.`;
    throw new PutUpError(sentence, name);
  }
  await write(stateRoot, new Map([...(await knownPlaces(stateRoot)), [name, place]]));
}

export async function forgetPlace(stateRoot: string, name: string): Promise<void> {
  const places = await knownPlaces(stateRoot);
  placeIn(places, name);
  await write(stateRoot, new Map([...places].filter(([other]) => other !== name)));
}

export function placeIn(places: Places, name: string): PlaceAddress {
  const found = places.get(name);
  if (found !== undefined) return found;
  const known = places.size === 0 ? 'none is known yet' : `known are ${[...places.keys()].join(', ')}`;
  const sentence = `Expected the name of a place, but "${name}" is none: ${known}. Say it first: tyrewall place add ${name} /folder, sftp://… or s3://…`;
  throw new PutUpError(sentence, name);
}

async function write(stateRoot: string, places: Places): Promise<void> {
  await mkdir(stateRoot, { recursive: true });
  const text = JSON.stringify({ v: 1, places: Object.fromEntries(places) }, null, 1);
  await writeWhole(pathOf(stateRoot), `${text}\n`, FOR_ME);
}
