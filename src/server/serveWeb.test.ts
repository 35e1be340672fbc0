/** Rule DK185 of docs/rules/desk.md. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createDesk } from './desk.js';
import { createFakeDay } from './testing/fakeDay.js';

it('DK185: nothing above the screens’ own folder is read, however it is asked for', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-web-'));
  const webFolder = join(folder, 'web');
  await mkdir(join(webFolder, 'assets'), { recursive: true });
  await mkdir(join(folder, 'web-beside'));
  await writeFile(join(webFolder, 'assets', 'a.js'), 'ours');
  for (const name of ['secret.txt', 'web-beside/secret.txt']) await writeFile(join(folder, name), 'a secret');
  const day = createFakeDay({ frames: 10, riders: 1 });
  const { app } = createDesk(day, { token: 'word', webFolder });
  const ask = (path: string) => app.request(`http://127.0.0.1:4317${path}`, { headers: { host: '127.0.0.1:4317' } });
  expect(await (await ask('/assets/a.js')).text()).toBe('ours');
  for (const up of [
    '..%2f..%2f',
    '%2e%2e%2f%2e%2e%2f',
    '..%2f..%2fweb-beside%2f',
    '..%5c..%5c',
    '%2f',
    '%00',
    '%',
    '%c0%ae',
  ])
    for (const path of [`/assets/${up}secret.txt`, `/assets/a/..%2f${up}secret.txt`]) {
      const answer = await ask(path);
      expect([path, answer.status]).toEqual([path, 404]);
      expect(await answer.text()).not.toContain('a secret');
    }
  await day.close();
  await rm(folder, { recursive: true });
});
