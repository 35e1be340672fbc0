/** Orders of a day, as they are fetched from the service: so many riders bought their whole day, one of them had money back. */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { minorOf, type OrderLine, type StoredFact, totalsOf } from '../../src/core/handover/orders/index.js';
import type { DayState } from '../../src/host/day/types.js';
import { meetingSecret, publicIdsOf } from '../../src/host/gallery/index.js';

const PRICE = minorOf(4500, 'test');
const EVENING = Date.parse('2026-09-19T19:00:00Z');

export async function writeSoldDay(
  folder: string,
  { about, arrangement }: Pick<DayState, 'about' | 'arrangement'>,
  bought = 4,
): Promise<void> {
  const idOf = publicIdsOf(await meetingSecret(folder));
  const facts = arrangement.riders.slice(0, bought).flatMap((rider, i) => {
    const order = i.toString(16).padStart(32, '0');
    const frames = rider.passes.flatMap((pass) => arrangement.passes[pass]!.bikes.map(({ frameId }) => frameId));
    const line: OrderLine = {
      product: i % 3 === 2 ? 'one' : 'day',
      name: i % 3 === 2 ? 'One picture' : 'Your whole day',
      asked: { kind: 'day', rider: idOf('rider', rider.key), day: about.firstDay },
      quantity: 1,
      unitPrice: i % 3 === 2 ? minorOf(1200, 'test') : PRICE,
      taxRate: 2000,
      licence: 'personal',
      longEdgePx: null,
      pictures: frames.slice(0, i % 3 === 2 ? 1 : 12).map((frame) => idOf('frame', frame)),
    };
    const totals = totalsOf([line], { currency: 'EUR', includesTax: true });
    const told = (n: number, fact: StoredFact['fact']) => ({
      seq: i * 3 + n,
      order,
      key: `${order}-${n}`,
      at: EVENING + i * 60_000 + n,
      by: 'photographer',
      fact,
    });
    const contact = { name: 'A rider', mail: 'rider@example.org', address: null };
    const placed = { meeting: idOf('meeting', about.id), edition: about.firstDay, lines: [line], totals };
    const asked = { voucher: null, way: 'cash', contact, consent: null, language: 'en' } as const;
    return [
      told(1, { kind: 'placed', ...placed, ...asked }),
      told(2, { kind: 'paid', amount: totals.toPay, way: 'cash', reference: `slip ${i + 1}` }),
      ...(i === 1 ? [told(3, { kind: 'refunded', amount: PRICE, why: 'wrong-rider', reference: 'back' })] : []),
    ];
  });
  const papers = facts.flatMap(({ order, key, fact }, i) =>
    fact.kind === 'placed'
      ? []
      : [{ order, key, kind: fact.kind === 'paid' ? 'invoice' : 'credit-note', number: `T2026-${i + 1}` }],
  );
  await mkdir(join(folder, 'people'), { recursive: true });
  await writeFile(join(folder, 'people', 'orders.json'), JSON.stringify({ v: 1, cursor: facts.length, facts, papers }));
}
