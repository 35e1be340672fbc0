/**
 * `people/`: names and contacts, one rewritable file a person, apart from the append-only log that holds only ids.
 * Erasing leaves a tombstone with nothing but the id; wherever the two meet, on a backup or a colleague's copy, the
 * tombstone wins.
 */
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { PersonId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { LogbookError } from '../logbook/index.js';
import { MeetingError } from './meetingError.js';
import { writeWhole } from './writeWhole.js';

export interface Person {
  readonly id: PersonId;
  readonly name?: string;
  /** Mail address or telephone number, as the person gave it. */
  readonly contact?: string;
  /** The number card they were handed. */
  readonly card?: number;
  /** What they booked before the day, in their words, by the entry it is for. */
  readonly wants?: Readonly<Record<string, string>>;
  /** Of two copies the one changed later counts. */
  readonly changedAt: EpochMs;
}

export interface People {
  get(id: PersonId): Person | undefined;
  all(): readonly Person[];
  isErased(id: PersonId): boolean;
  write(person: Omit<Person, 'changedAt'>): Promise<Person>;
  /** Removes what is known of the person, here and wherever this folder is brought together with another. */
  erase(id: PersonId): Promise<void>;
  /** Sentences about files that could not be read. */
  readonly notices: readonly string[];
}

export interface PeopleOptions {
  readonly readOnlyBecause?: string;
  readonly now?: () => number;
}

const TOMBSTONE = '.erased.json';
/** Ids become file names; anything else could name a file elsewhere. */
const SAFE_ID = /^[0-9A-Za-z_-]{1,80}$/;

const personSchema = z.looseObject({
  id: z.string().regex(SAFE_ID),
  name: z.string().optional(),
  contact: z.string().optional(),
  card: z.number().int().positive().optional(),
  wants: z.record(z.string(), z.string()).optional(),
  changedAt: z.number(),
});

export async function openPeople(folder: string, options: PeopleOptions = {}): Promise<People> {
  const now = options.now ?? Date.now;
  const read = await readPeople(folder);
  const { people, erased } = read;
  if (options.readOnlyBecause === undefined) for (const id of erased) await rm(personPath(folder, id), { force: true });

  const refuse = (id: PersonId): void => {
    if (options.readOnlyBecause !== undefined) throw new LogbookError(options.readOnlyBecause, { path: folder });
    if (SAFE_ID.test(id)) return;
    throw new MeetingError(`Expected a person's id of letters, digits and dashes but got “${id}”.`, { path: folder });
  };
  return {
    notices: read.notices,
    get: (id) => people.get(id),
    all: () => [...people.values()],
    isErased: (id) => erased.has(id),
    async write(said) {
      refuse(said.id);
      if (erased.has(said.id)) {
        const sentence = `Person ${said.id} asked to be erased, so nothing was written. Make a new person if they came back.`;
        throw new MeetingError(sentence, { path: folder });
      }
      const person: Person = { ...said, changedAt: epochMsOf(now()) };
      await mkdir(folder, { recursive: true });
      await writeWhole(personPath(folder, said.id), `${JSON.stringify(person, null, 2)}\n`);
      people.set(said.id, person);
      return person;
    },
    async erase(id) {
      refuse(id);
      await mkdir(folder, { recursive: true });
      await writeWhole(tombstonePath(folder, id), `${JSON.stringify({ id, erasedAt: now() })}\n`);
      await rm(personPath(folder, id), { force: true });
      erased.add(id);
      people.delete(id);
    },
  };
}

export const personPath = (folder: string, id: string): string => join(folder, `${id}.json`);
const tombstonePath = (folder: string, id: string): string => join(folder, `${id}${TOMBSTONE}`);

export interface ReadPeople {
  readonly people: Map<PersonId, Person>;
  readonly erased: Set<PersonId>;
  readonly notices: readonly string[];
}

/** Reads the folder; who has a tombstone is not among the people, whatever else lies there. */
export async function readPeople(folder: string): Promise<ReadPeople> {
  const names = await readdir(folder).catch(() => [] as string[]);
  const erased = new Set(
    names.filter((name) => name.endsWith(TOMBSTONE)).map((name) => name.slice(0, -TOMBSTONE.length) as PersonId),
  );
  const people = new Map<PersonId, Person>();
  const notices: string[] = [];
  for (const name of names.filter((entry) => entry.endsWith('.json') && !entry.endsWith(TOMBSTONE))) {
    const person = await readPerson(join(folder, name));
    if (typeof person === 'string')
      notices.push(`Expected a person in people/${name} but ${person}; the file was left as it is.`);
    else if (!erased.has(person.id)) people.set(person.id, person);
  }
  return { people, erased, notices };
}

async function readPerson(path: string): Promise<Person | string> {
  try {
    const answer = personSchema.safeParse(JSON.parse(await readFile(path, 'utf8')));
    return answer.success ? (answer.data as unknown as Person) : `${answer.error.issues[0]?.message}`;
  } catch (problem) {
    return (problem as Error).message;
  }
}
