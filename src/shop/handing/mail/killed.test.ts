/** Rules HD18, HD19 of docs/rules/handing.md: killed with SIGKILL anywhere between money and letter. */
import { fork } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { stateOf } from '../../../core/handover/orders/index.js';
import { openLibsqlOrders } from '../../db/index.js';
import { headerOf, startMail } from './testing.js';

const CHILD = fileURLToPath(new URL('../../../../test/fixtures/shop/letterChild.ts', import.meta.url));
const ORDERS = 4;

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-letters-killed-'));
});
afterEach(() => rm(folder, { recursive: true }));

it('HD18, HD19: every letter goes, one that goes twice is told by its Message-ID, and no order has two links', {
  timeout: 240_000,
}, async () => {
  let kill: () => void = () => undefined;
  let toKill = 0;
  // The server has the letter and the child is killed before it hears so.
  const mail = await startMail({
    toLetter: (nth) => {
      if (nth !== toKill) return null;
      kill();
      return 'hang-up';
    },
  });
  const run = (nth: number, afterMs: number | null) =>
    new Promise<boolean>((resolve, reject) => {
      const words = [folder, String(mail.settings.port), String(nth), String(ORDERS)];
      const child = fork(CHILD, words, {
        execArgv: ['--import', 'tsx'],
        stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
      });
      kill = () => child.kill('SIGKILL');
      child.once('message', () => {
        if (afterMs !== null) void wait(afterMs).then(kill);
      });
      child.once('exit', (code, signal) =>
        code === 0 || signal === 'SIGKILL'
          ? resolve(signal === 'SIGKILL')
          : reject(new Error(`It ended with ${code}.`)),
      );
    });
  try {
    let nth = 0;
    let kills = 0;
    for (const more of [1, 2]) {
      toKill = mail.letters.length + more;
      if (await run(nth++, null)) kills += 1;
    }
    toKill = 0;
    for (const afterMs of [5, 100, 250]) if (await run(nth++, afterMs)) kills += 1;
    expect(kills).toBeGreaterThanOrEqual(4);
    expect(await run(nth++, null)).toBe(false);
  } finally {
    await mail.stop();
  }
  const store = await openLibsqlOrders(join(folder, 'orders.db'));
  try {
    const orders = await store.orders();
    expect(orders).toHaveLength(ORDERS);
    const ids = new Set<string>();
    for (const order of orders) {
      const facts = (await store.factsOf(order)).map(({ fact }) => fact);
      expect(facts.filter(({ kind }) => kind === 'link-made')).toHaveLength(1);
      expect(facts.filter((fact) => fact.kind === 'handed-over' && fact.what === 'mail')).toHaveLength(1);
      expect(stateOf(order, await store.factsOf(order)).standing).toBe('paid');
      const [letter, ...others] = await store.mailsOf(order);
      expect([letter!.outcome, others]).toEqual(['sent', []]);
      ids.add(letter!.id);
    }
    const sent = mail.letters.map((letter) => headerOf(letter, 'Message-ID')!);
    expect(new Set(sent)).toEqual(ids);
    // The two that were cut off after the server had them came twice.
    expect(sent.length).toBeGreaterThanOrEqual(ORDERS + 2);
  } finally {
    await store.close();
  }
});
