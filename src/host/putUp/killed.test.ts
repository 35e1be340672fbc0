/** Killed at any moment, a place of any kind never has half a gallery, and the next run goes on. */
import { fork } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { idsOfRider, type MadeRider, type MadeSpec } from '../../../test/builders/madeGallery.js';
import { openPlace } from './openPlace.js';
import { putUp } from './putUp.js';
import { expectGone, expectWhole, layGallery } from './testing/madeMeeting.js';
import type { ChildOrder } from './testing/putUpChild.js';
import { EDITION, MARK } from './testing/said.js';
import { KINDS } from './testing/servers.js';

const KILLS = 20;
const PROGRAM = fileURLToPath(new URL('./testing/putUpChild.ts', import.meta.url));
/** Moments by the golden ratio: as good as random, and the same every time. */
const chance = (n: number): number => (n * 0.618_033_988_75) % 1;

function killed(order: ChildOrder, afterSteps: number, moreMs: number): Promise<boolean> {
  const child = fork(PROGRAM, [JSON.stringify(order)], {
    execArgv: ['--import', 'tsx'],
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  child.on('message', (done) => {
    if (done === afterSteps) void wait(moreMs).then(() => child.kill('SIGKILL'));
  });
  return new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal === 'SIGKILL')));
}

/** Each round other pictures change, come and go; every sixth rider is taken down for good. */
function specOf(round: number, down: ReadonlySet<number>): MadeSpec {
  const riders = Array.from({ length: 8 }, (_, rider): MadeRider => {
    const count = 1 + ((rider + round) % 3);
    return {
      rider,
      pictures: Array.from({ length: count }, (_, n) => [rider * 4 + n, (round + n) % 2] as const),
    };
  });
  return { riders: riders.filter(({ rider }) => !down.has(rider)), look: Math.floor(round / 3) };
}

describe.each(KINDS)('PU4: killed while putting up to a place: %s', (_, start) => {
  it('twenty times, the entry leads only to whole files, and then a run ends the work', {
    timeout: 400_000,
  }, async () => {
    const server = await start();
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-put-up-'));
    const place = await openPlace(server.address);
    const [down, withdrawn] = [new Set<number>(), new Set<string>()];
    let [kills, round] = [0, 0];
    while (kills < KILLS) {
      // Some runs are killed again and again over the same gallery, some find another one.
      if (round % 2 === 0) {
        const taken = round % 8 === 6 ? specOf(round, down).riders[0] : undefined;
        if (taken !== undefined) down.add(taken.rider);
        for (const id of taken === undefined
          ? []
          : idsOfRider({ ...taken, pictures: [0, 1, 2, 3].map((n) => [taken.rider * 4 + n, 0]) }))
          withdrawn.add(id);
        await layGallery(folder, specOf(round, down), 1500);
      }
      const order = { address: server.address, meetingFolder: folder, withdrawn: [...withdrawn] };
      // Whole runs are long at first and short later: of short ones the kill often comes too late, and does not count.
      const afterSteps = 1 + Math.floor(chance(round * 7 + 3) * (kills < 4 ? 90 : 40));
      if (await killed(order, afterSteps, chance(round) * 15)) kills += 1;
      await expectWhole(place);
      round += 1;
      expect(round, 'rounds, of which most are to be killed').toBeLessThan(KILLS * 3);
    }
    const options = { place, name: 'website', meetingFolder: folder, withdrawn, mark: MARK, now: () => new Date() };
    await putUp(EDITION, options);
    const reached = await expectWhole(place);
    expect(reached.filter((path) => path.startsWith('rider/'))).toHaveLength(8 - down.size);
    await expectGone(place, withdrawn);
    expect((await place.list('')).filter(({ path }) => path.includes('.unfinished-'))).toEqual([]);
    expect(await putUp(EDITION, options)).toMatchObject({ put: 0, removed: 0 });
    expect(kills).toBe(KILLS);
    await place.close();
    await server.close();
    await rm(folder, { recursive: true });
  });
});
