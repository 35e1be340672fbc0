/** `tyrewall orders` and what is said to it, as typed. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { type FactKey, minorOf, type OrderId, totalsOf } from '../core/handover/orders/index.js';
import { epochMsOf } from '../core/units.js';
import { openLibsqlOrders } from '../shop/db/index.js';
import { referenceOf } from '../shop/service/reference.js';
import { MEETING, offerOfDay } from '../shop/testing/shopDay.js';
import {
  type AskWish,
  cancelCommand,
  fetchCommand,
  listCommand,
  offerCommand,
  ordersCommand,
  paidCommand,
  passwordCommand,
  printsHandedCommand,
  refundCommand,
  voucherCommand,
} from './ordersCommand.js';
import { wrongRiderCommand } from './personCommands.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-orders-'));
const data = join(folder, 'data');
const offer = join(folder, 'offer.json');
const order = '1'.repeat(32) as OrderId;
const reference = referenceOf(order);

/** What a command printed. */
async function said(command: Promise<void>): Promise<string> {
  const lines: string[] = [];
  const spy = vi.spyOn(console, 'log').mockImplementation((line: string) => void lines.push(line));
  await command.finally(() => spy.mockRestore());
  return lines.join('\n');
}

const started = (words: readonly string[]): ChildProcess =>
  spawn(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', 'orders', ...words], { stdio: 'pipe' });

const says = (child: ChildProcess, pattern: RegExp): Promise<RegExpExecArray> =>
  new Promise((found, lost) => {
    let out = '';
    const look = (chunk: Buffer) => {
      out += chunk.toString();
      const match = pattern.exec(out);
      if (match) found(match);
    };
    child.stdout?.on('data', look);
    child.stderr?.on('data', look);
    child.on('close', () => lost(new Error(`It ended without ${pattern}: ${out}`)));
  });

describe('orders in a terminal', () => {
  let ask: AskWish;
  beforeAll(async () => {
    writeFileSync(offer, JSON.stringify(offerOfDay));
    const service = started(['--data', data, '--offer', offer, '--port', '0', '--admin-port', '0']);
    const [, address] = await says(service, /You reach it at (http:\/\/127\.0\.0\.1:\d+) /);
    ask = { data, from: address! };
    // As if a rider had placed it: the same database, beside the running service.
    const store = await openLibsqlOrders(join(data, 'orders.db'));
    await store.write((writes) =>
      writes.addFact({
        order,
        key: `placed ${order}` as FactKey,
        at: epochMsOf(1),
        by: 'buyer',
        fact: {
          kind: 'placed',
          meeting: MEETING,
          edition: 'e',
          lines: [],
          totals: totalsOf([{ unitPrice: minorOf(4500, ''), quantity: 1, taxRate: 2000 }], offerOfDay.prices),
          voucher: null,
          way: 'cash',
          contact: { name: 'Someone', mail: 'someone@example.org', address: null },
          consent: null,
          language: 'en',
        },
      }),
    );
    await store.close();
    return async () => {
      const ended = new Promise((done) => service.on('close', done));
      service.kill('SIGTERM');
      await ended;
      rmSync(folder, { recursive: true, force: true });
    };
  });

  it('lists who waits, takes the money by reference, gives some back, and fetches it all', async () => {
    expect(await said(listCommand({ ...ask, waiting: true }))).toBe(`${reference}  £45.00  waits for money  Someone`);
    await expect(paidCommand(reference, { ...ask, amount: '12,505' })).rejects.toThrow('as 12.50');
    await expect(paidCommand(reference, { ...ask, way: 'gold' })).rejects.toThrow('cash, transfer or terminal');
    expect(await said(paidCommand(reference, { ...ask, amount: '20' }))).toContain('£25.00 of it still owed');
    expect(await said(paidCommand(reference.toLowerCase().replace('-', ' '), { ...ask, amount: '30' }))).toContain(
      '£45.00  paid  Someone, £5.00 more than it costs',
    );
    await expect(paidCommand(reference, ask)).rejects.toThrow('Nothing is owed');
    await expect(cancelCommand(reference, ask)).rejects.toThrow('Give the money back first');
    await expect(refundCommand(reference, { ...ask, amount: '99' })).rejects.toThrow('at most 5000 minor units');
    expect(await said(refundCommand(reference, { ...ask, why: 'wrong-rider' }))).toContain('given back');
    await expect(wrongRiderCommand(reference, ['abc'], ask)).rejects.toThrow(`Expected pictures of ${reference}`);
    await expect(printsHandedCommand(reference, ask)).rejects.toThrow(`${reference} has none`);
    const meeting = join(folder, 'meeting');
    expect(await said(fetchCommand(meeting, { ...ask, offer }))).toContain('4 facts of orders came');
    expect(await said(fetchCommand(meeting, { ...ask, offer }))).toContain('Nothing new');
    expect(JSON.parse(readFileSync(join(meeting, 'people', 'orders.json'), 'utf8'))).toMatchObject({ cursor: 4 });
  });

  it('makes codes good, and says in a sentence what is wrong with what was typed', async () => {
    expect(await said(voucherCommand(offer, 'half', { ...ask, percent: '50' }))).toContain('HALF is good at');
    expect(await said(offerCommand(offer, ask))).toContain('4 pictures of 1 rider are offered');
    for (const [command, sentence] of [
      [() => voucherCommand(offer, 'half', ask), 'one of --percent'],
      [() => voucherCommand(offer, 'half', { ...ask, amount: 'ten' }), 'or an amount, as 12.50, after --amount'],
      [
        () => voucherCommand(offer, 'half', { ...ask, percent: '120' }),
        'Expected a share from 0 to 100 after --percent',
      ],
      [() => voucherCommand(offer, 'half', { ...ask, percent: '50', uses: '0' }), 'from 1 on after --uses'],
      [() => voucherCommand(offer, 'half', { ...ask, percent: '50', until: 'soon' }), 'day of the calendar'],
      [() => voucherCommand(offer, 'half', { ...ask, percent: '50', until: '2031-02-30' }), 'day of the calendar'],
      [() => offerCommand(join(folder, 'nothing.json'), ask), 'it could not be read'],
      [() => cancelCommand('0000-0000', ask), 'is none'],
      [() => listCommand({ data, from: 'http://127.0.0.1:1' }), 'nothing answered'],
      [() => listCommand({ data: folder }), 'could not be read'],
      [() => ordersCommand({ data, port: '99999' }), 'Expected a port'],
      [() => ordersCommand({ data, listen: '0.0.0.0' }), 'Expected --site'],
      [() => ordersCommand({ data, site: 'orders.example.org' }), 'Expected an address'],
    ] as const)
      await expect(command()).rejects.toThrow(sentence);
  });

  it('takes a password from standard input and keeps only what it was made into', async () => {
    const other = join(folder, 'other');
    const child = started(['password', '--data', other]);
    child.stdin?.end('a long sentence\n');
    await says(child, /The password is set/);
    const kept = () => readFileSync(join(other, 'settings.json'), 'utf8');
    expect(kept()).toContain('$argon2id$');
    expect(kept()).not.toContain('long sentence');
    await said(passwordCommand({ data: other, none: true }));
    expect(kept()).toContain('"adminPassword": null');
  });
});
