/** Putting up and law at the desk, with the real work over a folder place. Rules PU1, PU6, LW8, LW10, LW11, LW15, LW17, LW19 and DK181 to DK184. */
import { existsSync } from 'node:fs';
import { readdir, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { deskWithPlaces, type WithPlaces } from '../../../test/builders/deskWithPlaces.js';
import { createDesk, type Desk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import { DAY } from '../testing/madeUpDay.js';
import type { UndoAnswer } from '../types.js';
import type { AboutView, HandoverView, PlaceView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
const FRAMES = 200;

let made: WithPlaces;
let day: FakeDay;
let desk: Desk;
beforeEach(async () => {
  made = await deskWithPlaces();
  day = createFakeDay({ frames: 400, riders: 20 });
  desk = createDesk(day, { token: TOKEN, webFolder: '/nowhere', folder: made.folder, handover: made.work });
  await made.lay(day, FRAMES);
});
afterEach(async () => {
  await desk.close();
  await day.close();
  await made.remove();
});

async function ask<T>(path: string, body?: object): Promise<T & { readonly problem?: string }> {
  const init = body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) };
  const headers = { host: HOST, authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json' };
  return (await (await desk.app.request(`http://${HOST}${path}`, { headers, ...init })).json()) as T & {
    readonly problem?: string;
  };
}
const view = () => ask<HandoverView>('/api/handover');
const stick = async (): Promise<PlaceView> => (await view()).places!.find(({ name }) => name === 'stick')!;
const at = (act: string) => ask<{ lines: readonly string[] }>(`/api/handover/places/stick/${act}`, {});
const putUp = async (): Promise<PlaceView> => {
  await at('put-up');
  await expect.poll(async () => (await stick()).work.state).not.toBe('running');
  return stick();
};
const lawDone = async (): Promise<HandoverView['law']> => {
  await expect.poll(async () => (await view()).law.state).not.toBe('running');
  return (await view()).law;
};
const picturesIn = (folder: string): Promise<readonly string[]> => readdir(join(folder, DAY, 'p')).catch(() => []);
/** One whose pictures are in the gallery. */
const riderShown = () => {
  const { arrangement } = day.state();
  const shown = new Set(
    arrangement.exposures
      .filter(({ role }) => role === 'bike')
      .slice(0, FRAMES)
      .map(({ frameId }) => frameId),
  );
  const framesOf = (passes: readonly number[]) =>
    passes.flatMap((pass) => arrangement.passes[pass]!.bikes.map(({ frameId }) => frameId));
  const rider = arrangement.riders.find(({ passes }) => framesOf(passes).some((frame) => shown.has(frame)))!;
  return { ...rider, ids: framesOf(rider.passes).map((frame) => made.idOf('frame', frame)) };
};

it('DK181: a dry run says what putting up would do and changes nothing; put up, it stands there and nothing is left to do', async () => {
  expect(await stick()).toMatchObject({ stands: 'No whole gallery stands there yet.', pending: null, trouble: null });
  const { lines } = await at('dry-run');
  expect(lines.join('\n')).toMatch(/^pictures: \d+ files[\s\S]*put {5}index\.html[\s\S]*In all .* at 2 Mbit\/s/);
  expect(await readdir(made.stick)).toEqual([]);
  const { work, stands } = await putUp();
  expect([work.state, work.sentence]).toEqual([
    'finished',
    expect.stringContaining('The gallery stands in the folder'),
  ]);
  expect(stands).toMatch(/^A gallery of \d+ files stands there since /);
  expect((await picturesIn(made.stick)).length).toBe(FRAMES);
  expect((await at('dry-run')).lines).toEqual([expect.stringMatching(/^Nothing is to be done: \d+ files/)]);
  expect((await at('stop')).problem).toBe('Nothing is being put up there, so there is nothing to stop.');
  expect((await ask('/api/handover/places/nowhere/put-up', {})).problem).toContain(
    'Expected the name of a place but “nowhere”',
  );
});

it('DK181, DK182: under way it shows count, time left and why nothing moves; a key stops it, and so does a takedown', async () => {
  const putUp: typeof made.work.putUp = () => (report, signal) =>
    new Promise((end) => {
      report({ done: 3, total: 9, secondsLeft: 120, waiting: 'The line broke.' });
      signal.addEventListener('abort', () => end('Stopped: 3 files put up.'));
    });
  await desk.close();
  desk = createDesk(day, {
    token: TOKEN,
    webFolder: '/nowhere',
    handover: Object.assign(Object.create(made.work), { putUp }),
  });
  const [frame] = day.state().arrangement.exposures.filter(({ role }) => role === 'bike');
  const stopping = [
    () => at('stop'),
    () => ask('/api/handover/take-down', { gesture: uuidv7(), frame: frame!.frameId }),
  ];
  for (const stop of stopping) {
    await at('put-up');
    expect((await stick()).work).toMatchObject({
      state: 'running',
      done: 3,
      secondsLeft: 120,
      sentence: 'The line broke.',
    });
    expect((await at('put-up')).problem).toBe('It is being put up there already.');
    await stop();
    await expect.poll(async () => (await stick()).work.state).toBe('stopped');
  }
  expect((await lawDone()).state).toBe('finished');
});

it('DK182: a rider is taken down in one action: from the gallery here, from the place, with a proof; how much goes is told before', async () => {
  await putUp();
  const { key, ids } = riderShown();
  const about = await ask<AboutView>(`/api/handover/about?rider=${key}`);
  expect(about.frames).toBe(new Set(ids).size);
  expect(about.reaches).toContain(`the folder ${made.stick}`);
  const gesture = uuidv7();
  expect(await ask('/api/handover/take-down', { gesture, rider: key })).toEqual({ frames: about.frames });
  expect((await lawDone()).sentence).toMatch(/^\d+ things removed in \d+ places\. The proof: /);
  for (const place of [join(made.folder, 'made', 'gallery'), made.stick]) {
    const left = await picturesIn(place);
    expect(left.length).toBeLessThan(FRAMES);
    for (const id of ids) expect(left.some((file) => file.includes(id))).toBe(false);
  }
  expect(existsSync(join(made.folder, 'made', 'taken-down', `${gesture}.txt`))).toBe(true);
  const said = day.said().length;
  // Told twice, as after a lost answer, it is one gesture.
  await ask('/api/handover/take-down', { gesture, rider: key });
  await lawDone();
  expect(day.said().length).toBe(said);
  expect((await view()).pending).toEqual([]);
});

it('DK182: a place that cannot be reached is pending until it is tried again', async () => {
  await putUp();
  const away = `${made.stick}-away`;
  await rename(made.stick, away);
  const [frame] = day.state().arrangement.exposures.filter(({ role }) => role === 'bike');
  await ask('/api/handover/take-down', { gesture: uuidv7(), frame: frame!.frameId });
  await lawDone();
  expect((await view()).pending).toEqual([expect.stringMatching(/^put up to stick: /)]);
  expect((await stick()).pending).toMatch(/^1 file taken down and not yet gone from there/);
  await rename(away, made.stick);
  await ask('/api/handover/again', {});
  await lawDone();
  expect((await view()).pending).toEqual([]);
  expect((await picturesIn(made.stick)).length).toBe(FRAMES - 1);
});

it('DK183: a frame held back is shown as such until it is released, and taken back it is held again', async () => {
  const [frame] = day.state().arrangement.exposures.filter(({ role }) => role === 'bike');
  const say = (kind: 'held' | 'released') =>
    ask('/api/gestures', { gesture: uuidv7(), decisions: [{ kind, file: frame!.mainFile }] });
  const held = async () => (await view()).held.filter(({ isHeld }) => isHeld).map(({ frameId }) => frameId);
  await say('held');
  expect(await held()).toEqual([frame!.frameId]);
  await say('released');
  expect(await held()).toEqual([]);
  expect(await ask<UndoAnswer>('/api/undo', {})).toMatchObject({ sentence: expect.stringContaining('released') });
  expect(await held()).toEqual([frame!.frameId]);
});

it('DK184: a minor is said in one action and taken back by the key; what is known is laid into a new folder each time', async () => {
  const { key, code } = riderShown();
  const minor = async () => (await ask<AboutView>(`/api/handover/about?rider=${key}`)).minor;
  expect(await minor()).toBeNull();
  await ask('/api/handover/minor', { gesture: uuidv7(), rider: key, is: 'without-consent' });
  expect(await minor()).toBe('without-consent');
  await ask('/api/undo', {});
  expect(await minor()).toBeNull();
  for (const name of [code, `${code}-2`]) {
    await ask('/api/handover/give-out', { rider: key });
    expect((await lawDone()).sentence).toContain(`made/given-out/${name}; begin with index.html.`);
    const data = JSON.parse(await readFile(join(made.folder, 'made', 'given-out', name, 'data.json'), 'utf8'));
    expect(data.riders).toMatchObject([{ code }]);
  }
  expect((await ask('/api/handover/minor', { gesture: uuidv7(), rider: 'nobody', is: 'of-age' })).problem).toContain(
    'Expected a rider of this day',
  );
});
