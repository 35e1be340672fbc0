import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { idsOfRider, type MadeRider, pictureId, riderId } from '../../../test/builders/madeGallery.js';
import { folderPlace } from './folderPlace.js';
import { keepPlace, knownPlaces, placeIn } from './places.js';
import { type PutUpOptions, type PutUpProgress, planFor, putUp, takeAway, withdrawFrom } from './putUp.js';
import { PutUpError } from './putUpError.js';
import { servingOf } from './serving.js';
import { putUpStandings } from './standing.js';
import { expectGone, expectWhole, layGallery } from './testing/madeMeeting.js';
import { EDITION, MARK } from './testing/said.js';
import type { Place } from './types.js';

const RIDERS: readonly MadeRider[] = [0, 1, 2].map((rider) => ({
  rider,
  pictures: [0, 1].map((n) => [rider * 2 + n, 0] as const),
}));
const NOW = new Date('2026-09-19T18:02:00Z');

let meetingFolder: string;
let webFolder: string;
let place: Place;
beforeEach(async () => {
  meetingFolder = await mkdtemp(join(tmpdir(), 'tyrewall-put-up-'));
  webFolder = await mkdtemp(join(tmpdir(), 'tyrewall-web-'));
  place = folderPlace({ kind: 'folder', folder: webFolder });
});
afterEach(async () => {
  await rm(meetingFolder, { recursive: true });
  await rm(webFolder, { recursive: true, force: true });
});

const noWait = { waitsSeconds: [1, 2, 4], wait: async () => {}, chance: () => 0.5 };
const options = (more: Partial<PutUpOptions> = {}): PutUpOptions => ({
  place,
  name: 'website',
  meetingFolder,
  withdrawn: new Set(),
  mark: MARK,
  now: () => NOW,
  patience: noWait,
  ...more,
});
const standing = async (withdrawn: ReadonlySet<string> = new Set()) =>
  (await putUpStandings(meetingFolder, withdrawn, NOW))[0]!;

/** Breaks at the calls a test names, as a line does. */
function breaking(breaks: (call: string, path: string) => boolean): Place {
  const check = (call: string, path: string): void => {
    if (breaks(call, path)) throw new PutUpError(`Expected ${place.said} to answer.`, path, { isPassing: true });
  };
  return {
    ...place,
    async list(folder) {
      check('list', folder);
      return place.list(folder);
    },
    async put(path, ...more) {
      check('put', path);
      return place.put(path, ...more);
    },
    async remove(path) {
      check('remove', path);
      return place.remove(path);
    },
  };
}

describe('putting up', () => {
  it('PU1: twice changes nothing, and a dry run says the same without doing it', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const plan = await planFor(EDITION, options());
    expect(await place.list('')).toEqual([]);
    const planned = plan.parts.flatMap(({ steps }) => steps).length;
    const report = await putUp(EDITION, options());
    expect(report).toMatchObject({ put: planned, removed: 0, wasStopped: false });
    await expectWhole(place);
    expect(await putUp(EDITION, options())).toMatchObject({ put: 0, removed: 0 });
    expect(await standing()).toMatchObject({ edition: EDITION, at: NOW.toISOString(), pending: null, failed: null });
  });

  it('PU5: the entry stands with one picture of each rider before the second pictures come', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const order: string[] = [];
    const watched: Place = {
      ...place,
      async put(path, ...more) {
        order.push(path);
        return place.put(path, ...more);
      },
    };
    await putUp(EDITION, options({ place: watched, atOnce: 1 }));
    const entries = order.flatMap((path, i) => (path === `${EDITION}/index.html` ? [i] : []));
    expect(entries).toHaveLength(2);
    const before = order.slice(0, entries[0]);
    const shown = (n: number): boolean => before.some((path) => path.includes(pictureId(n)));
    expect([0, 1, 2, 3, 4, 5].map(shown)).toEqual([true, false, true, false, true, false]);
    expect(order.at(-1)).toBe(`${EDITION}/index.html`);
  });

  it('PU8: without notes it goes on by what lies there, and puts only what no name vouches for', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const { put } = await putUp(EDITION, options());
    await rm(join(meetingFolder, 'made/put-up/website.notes.jsonl'));
    const again = await putUp(EDITION, options());
    expect(again.put).toBeLessThan(put / 2);
    await expectWhole(place);
    expect(await putUp(EDITION, options())).toMatchObject({ put: 0 });
  });

  it('PU8: a file that somebody changed at the place is put there again', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await putUp(EDITION, options());
    await writeFile(join(webFolder, EDITION, 'index.html'), 'changed');
    expect(await putUp(EDITION, options())).toMatchObject({ put: 1 });
    await expectWhole(place);
  });

  it('PU8: a line that breaks is tried again after longer waits, and what it said is shown', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const waits: number[] = [];
    const said: PutUpProgress[] = [];
    let breaks = 3;
    const line = breaking((call) => call === 'put' && breaks-- > 0);
    const patience = { ...noWait, wait: async (seconds: number) => void waits.push(seconds) };
    await putUp(EDITION, options({ place: line, patience, atOnce: 1, onProgress: (one) => said.push(one) }));
    expect(waits).toEqual([0.75, 1.5, 3]);
    await expectWhole(place);
    // Told with the file in hand; the first is the mark of whose folder it is, before anything is shown.
    expect(said.every(({ done, total }) => done <= total)).toBe(true);
  });

  it('PU8: a line that stays broken ends the run with its sentence, which is kept until a run succeeds', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const dead = options({ place: breaking(() => true) });
    await expect(putUp(EDITION, dead)).rejects.toThrow(`Expected the folder ${webFolder} to answer.`);
    expect((await standing()).failed).toEqual({
      at: NOW.toISOString(),
      sentence: `Expected the folder ${webFolder} to answer.`,
    });
    await putUp(EDITION, options());
    expect((await standing()).failed).toBeNull();
  });

  it('PU3: stopped, it ends after the files in hand and says so', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    const stop = new AbortController();
    const stopped = await putUp(
      EDITION,
      options({ signal: stop.signal, onProgress: ({ done }) => done === 9 && stop.abort() }),
    );
    expect(stopped.wasStopped).toBe(true);
    expect(stopped.put).toBeLessThan(9 + 6);
    expect((await standing()).at).toBeNull();
    await putUp(EDITION, options());
    await expectWhole(place);
  });

  it('PU10: a folder with files of others, or of another meeting, is not touched', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await place.put(`${EDITION}/index.html`, Buffer.from('a page'), servingOf({ path: 'index.html', role: 'entry' }));
    await expect(putUp(EDITION, options())).rejects.toThrow('but files lie there that Tyrewall did not put there.');
    await place.remove(`${EDITION}/index.html`);
    await putUp(EDITION, options());
    await expect(putUp(EDITION, options({ mark: 'cd'.repeat(16) }))).rejects.toThrow(
      'but another meeting was put up there.',
    );
  });

  it('PU11: addresses handed out lead on: a merged rider’s page stays and leads to the other', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await putUp(EDITION, options());
    const merged = [RIDERS[0]!, { rider: 1, pictures: [], movedTo: 0 }, RIDERS[2]!];
    await layGallery(meetingFolder, { riders: merged });
    await putUp(EDITION, options());
    await expectWhole(place);
    const old = await readFile(join(webFolder, EDITION, `rider/${riderId(1)}.html`), 'utf8');
    expect(old).toContain(`href="${riderId(0)}.html"`);
  });

  it('expects a made gallery', async () => {
    await expect(putUp(EDITION, options())).rejects.toThrow(/but there is none. Make it first: tyrewall hand-over./);
  });
});

describe('a takedown', () => {
  const withdrawn = new Set(idsOfRider(RIDERS[1]!));

  it('PU6: leaves the place first, with every line that leads to it, and is then asked for and absent', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await putUp(EDITION, options());
    const order: string[] = [];
    const watched: Place = {
      ...place,
      async remove(path) {
        order.push(`remove ${path}`);
        return place.remove(path);
      },
      async put(path, ...more) {
        order.push(`put ${path}`);
        return place.put(path, ...more);
      },
    };
    expect(await withdrawFrom(options({ place: watched, withdrawn }))).toBe(2 + 1 + 2 * 4 + 1);
    await expectGone(place, withdrawn);
    await expectWhole(place);
    // Six pages led there: two entries, two lists; the rider's own pages went. So did the script's list, which cannot lose a line.
    expect(order.filter((one) => one.startsWith('put'))).toHaveLength(4);
    expect(order.findIndex((one) => one.startsWith('remove') && !one.includes('/find.'))).toBe(5);
    expect((await standing(withdrawn)).pending).toBeNull();
  });

  it('PU6: that cannot reach the place is pending until it can, is told, and comes first in the next run', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await putUp(EDITION, options());
    // Said, and nobody has tried yet: it is pending already.
    expect((await standing(withdrawn)).pending?.paths).toHaveLength(11);
    await expect(withdrawFrom(options({ place: breaking(() => true), withdrawn }))).rejects.toThrow(PutUpError);
    const kept = JSON.parse(await readFile(join(meetingFolder, 'made/put-up/website.json'), 'utf8'));
    expect(kept.pending).toMatchObject({ since: NOW.toISOString() });
    expect(kept.pending.paths).toHaveLength(11);
    expect(kept.failed.sentence).toContain('to answer');
    // The next run is of the gallery as it was made before: what was taken down is not put there again.
    await putUp(EDITION, options({ withdrawn }));
    await expectGone(place, withdrawn);
    await expectWhole(place);
    expect(await standing(withdrawn)).toMatchObject({ pending: null, failed: null });
  });

  it('PU6: whose removal a place only pretends stays pending', async () => {
    await layGallery(meetingFolder, { riders: RIDERS });
    await putUp(EDITION, options());
    const pretending: Place = { ...place, remove: async () => {} };
    await expect(withdrawFrom(options({ place: pretending, withdrawn }))).rejects.toThrow(
      /to be gone from .*, which said that it removed it, but it is still given out. Remove it there by hand./,
    );
    expect((await standing(withdrawn)).pending?.paths).toHaveLength(11);
  });
});

describe('places of this machine', () => {
  it('PU9: are kept for their user alone, outside every meeting', async () => {
    const secret = {
      kind: 's3',
      bucket: 'b',
      folder: '',
      endpoint: null,
      region: 'r',
      keyId: 'k',
      secret: 'hush',
    } as const;
    await keepPlace(webFolder, 'store', secret);
    expect((await stat(join(webFolder, 'places.json'))).mode & 0o777).toBe(0o600);
    expect(placeIn(await knownPlaces(webFolder), 'store')).toEqual(secret);
    const unknown = async () => placeIn(await knownPlaces(webFolder), 'elsewhere');
    await expect(unknown()).rejects.toThrow('Expected the name of a place, but "elsewhere" is none: known are store.');
    await expect(keepPlace(webFolder, '../x', secret)).rejects.toThrow(/Expected a name of letters, digits/);
  });

  it('PU9: a broken list is said, not taken for an empty one', async () => {
    await writeFile(join(webFolder, 'places.json'), '{"v": 2}');
    await expect(knownPlaces(webFolder)).rejects.toThrow(/but it holds something else. Remove the file/);
  });
});

it('PU2: what is named by content may be kept for ever, anything else is asked after', () => {
  expect(servingOf({ path: 'small/a.0123456789.webp', role: 'byContent' })).toEqual({
    type: 'image/webp',
    cache: 'public, max-age=31536000, immutable',
  });
  expect(servingOf({ path: 'index.html', role: 'entry' })).toEqual({
    type: 'text/html; charset=utf-8',
    cache: 'no-cache',
  });
});

it('LW12: a gallery whose time is over leaves its place, the entry first; what others put there stays, and it can come again', async () => {
  await layGallery(meetingFolder, { riders: RIDERS });
  await putUp(EDITION, options());
  await place.put(`${EDITION}/notes.txt`, Buffer.from('theirs'), servingOf({ path: 'notes.txt', role: 'kept' }));
  const removed: string[] = [];
  const watched: Place = {
    ...place,
    remove: (path) => {
      removed.push(path);
      return place.remove(path);
    },
  };
  expect(await takeAway(options({ place: watched }))).toBeGreaterThan(20);
  expect(removed[0]).toBe(`${EDITION}/index.html`);
  expect((await place.list('')).map(({ path }) => path)).toEqual([`${EDITION}/notes.txt`]);
  expect(await standing(new Set())).toMatchObject({ edition: null, at: null, files: 0 });
  expect(await takeAway(options())).toBe(0);
  await place.remove(`${EDITION}/notes.txt`);
  await putUp(EDITION, options());
  await expectWhole(place);
});
