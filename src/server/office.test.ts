import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openOffice } from '../host/office/officeFile.js';
import { createDesk } from './desk.js';
import { createFakeDay, type FakeDay } from './testing/fakeDay.js';
import type { OfficeView, ProblemView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
let folder: string;
let day: FakeDay;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-office-'));
  day = createFakeDay({ frames: 60, riders: 4 });
});
afterEach(async () => {
  await day.close();
  await rm(folder, { recursive: true, force: true });
});

const file = () => join(folder, 'office.json');
function setUp() {
  const { app } = createDesk(day, {
    token: TOKEN,
    webFolder: '/nowhere',
    now: () => Date.parse('2026-09-10T12:00:00Z'),
    office: openOffice(file()),
  });
  const ask = (path: string, body?: unknown) =>
    app.request(`http://${HOST}${path}`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
  const view = async (): Promise<OfficeView> => (await (await ask('/api/office')).json()) as OfficeView;
  const problem = async (answer: Promise<Response>): Promise<readonly [number, string]> => {
    const response = await answer;
    return [response.status, ((await response.json()) as ProblemView).problem];
  };
  return { ask, view, problem };
}

describe('papers at the desk', () => {
  it('PL934: lines written down come back as lines, and their checks with them', async () => {
    const { ask, view } = setUp();
    const before = await view();
    expect(before.page.papers.find(({ id }) => id === 'certificate')?.is).toBe('missing');
    await ask('/api/office/own', {
      text: 'certificate Fennel Mutual; 5,000,000 GBP; trackside; until 2027-03-31\nborn 1984-05-02',
    });
    await ask('/api/office/meeting', { text: 'asks age 18\nasks 5,000,000 GBP' });
    await ask('/api/office/kit', { text: 'body Body A; serial 4711; 900 g' });
    const { page, texts } = await view();
    expect(page.papers.find(({ id }) => id === 'certificate')?.is).toBe('settled');
    expect(page.carried.kg).toBe(0.9);
    expect(texts).toEqual({
      own: 'born 1984-05-02\ncertificate Fennel Mutual; 5,000,000 GBP; trackside; until 2027-03-31',
      meeting: 'asks 5,000,000 GBP\nasks age 18',
      kit: 'body Body A; serial 4711; 900 g',
    });
  });

  it('PL934: a tick stays when the lines are written again, and can be taken off', async () => {
    const { ask, view } = setUp();
    const boots = async () => (await view()).page.packing.find(({ id }) => id === 'boots')?.is;
    expect(await boots()).toBe('open');
    await ask('/api/office/packed', { id: 'boots', is: true });
    await ask('/api/office/packed', { id: 'boots', is: true });
    await ask('/api/office/meeting', { text: 'asks age 18' });
    expect(await boots()).toBe('settled');
    await ask('/api/office/packed', { id: 'boots', is: false });
    expect(await boots()).toBe('open');
  });

  it('PL934: lines that cannot be read are refused by line, and nothing is written down', async () => {
    const { ask, view, problem } = setUp();
    await ask('/api/office/meeting', { text: 'asks age 18' });
    const [status, sentence] = await problem(
      Promise.resolve(ask('/api/office/meeting', { text: 'asks age 18\nsign-on early' })),
    );
    expect(status).toBe(400);
    expect(sentence).toMatch(/^Nothing was written down\. Line 2: expected sign-on/);
    expect((await view()).texts.meeting).toBe('asks age 18');
    expect((await problem(Promise.resolve(ask('/api/office/packed', { id: 'boots' }))))[0]).toBe(400);
  });

  it('PL934: nothing of it goes into the meeting’s log', async () => {
    const { ask } = setUp();
    const before = day.said();
    await ask('/api/office/kit', { text: 'body Body A; serial 4711' });
    expect(day.said()).toEqual(before);
    expect(JSON.stringify(day.state().log)).not.toMatch(/4711/);
  });

  it('PL934: a desk without papers says so', async () => {
    const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere' });
    const answer = await app.request(`http://${HOST}/api/office`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}` },
    });
    expect([answer.status, ((await answer.json()) as ProblemView).problem]).toEqual([
      404,
      'This desk was opened without papers.',
    ]);
  });

  it('PL934: a damaged file is told of and left as it is', async () => {
    await writeFile(file(), '{');
    const { ask, problem } = setUp();
    const [status, sentence] = await problem(Promise.resolve(ask('/api/office')));
    expect(status).toBe(409);
    expect(sentence).toMatch(/not JSON.*left as it is/);
  });
});
