/** One contract, both databases. Rules OR15–OR20 of docs/rules/orders.md. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  type Fact,
  type FactKey,
  minorOf,
  type Offer,
  type OrderId,
  totalsOf,
} from '../../core/handover/orders/index.js';
import type { PaperBody } from '../../core/handover/orders/types.js';
import { epochMsOf } from '../../core/units.js';
import { hasPostgres, startPostgres, type TestPostgres } from '../testing/postgres.js';
import { type OrderStore, openLibsqlOrders, openPostgresOrders } from './index.js';

const order = (n: number) => n.toString(16).padStart(32, '0') as OrderId;
const paid = (amount: number): Fact => ({
  kind: 'paid',
  amount: minorOf(amount, 'test'),
  way: 'cash',
  reference: 'tin \u0000 “<script>” 🏍 \ud800',
});
const told = (n: number, key: string, fact: Fact = paid(100), at = 1_790_000_000_123) =>
  ({ order: order(n), key: key as FactKey, at: epochMsOf(at), by: 'photographer', fact }) as const;
const totals = totalsOf([], { currency: 'GBP', includesTax: true });
const body: PaperBody = {
  title: 'A day',
  seller: { name: 'A', contact: null, lines: [] },
  buyer: { name: 'Someone', address: null },
  lines: [],
  totals,
  includesTax: true,
  way: 'cash',
  reference: '',
  of: null,
  language: 'en',
};
const placed: Fact = {
  kind: 'placed',
  meeting: 'm',
  edition: 'e',
  lines: [],
  totals,
  voucher: null,
  way: 'cash',
  contact: { name: 'Someone', mail: 'someone@example.org', address: '1 Road' },
  consent: null,
  language: 'en',
};

interface Place {
  open(): Promise<OrderStore>;
}

function contract(name: string, freshPlace: () => Promise<Place>) {
  describe(name, () => {
    let place: Place;
    let store: OrderStore;
    beforeEach(async () => {
      place = await freshPlace();
      store = await place.open();
      return () => store.close();
    });

    it('OR15: a fact comes back as it was told, whatever letters are in it', async () => {
      await store.write((writes) => writes.addFact(told(1, 'a')));
      expect(await store.factsOf(order(1))).toEqual([{ ...told(1, 'a'), seq: 1 }]);
      expect(await store.factsOf(order(2))).toEqual([]);
    });

    it('OR15: the same key again is the same fact: the first stays and no number is taken', async () => {
      const first = await store.write((writes) => writes.addFact(told(1, 'a', paid(100))));
      const again = await store.write((writes) => writes.addFact(told(1, 'a', paid(900))));
      expect([first.isNew, again.isNew, again.fact]).toEqual([true, false, first.fact]);
      await store.write((writes) => writes.addFact(told(1, 'b')));
      expect((await store.factsSince(0, 9)).map(({ seq, key }) => [seq, key])).toEqual([
        [1, 'a'],
        [2, 'b'],
      ]);
    });

    it('OR16: a transaction that fails leaves nothing, and its numbers are given again', async () => {
      const failing = store.write(async (writes) => {
        await writes.addFact(told(1, 'a'));
        await writes.addPaper('2026', 'invoice', told(1, 'a'), body);
        throw new Error('cut');
      });
      await expect(failing).rejects.toThrow('cut');
      expect(await store.factsSince(0, 9)).toEqual([]);
      const paper = await store.write((writes) => writes.addPaper('2026', 'invoice', told(1, 'a'), body));
      expect(paper.number).toBe(1);
    });

    it('OR17: numbers of a series have no gaps and none comes twice, from two programs at once', async () => {
      const other = await place.open();
      const papers = await Promise.all(
        Array.from({ length: 40 }, (_, n) =>
          (n % 2 === 0 ? store : other)
            .write(async (writes) => {
              const fact = told(n, `k${n}`);
              await writes.addFact(fact);
              const paper = await writes.addPaper(n % 4 === 0 ? 'b' : 'a', 'invoice', fact, body);
              // A third is cut off after its number was taken.
              if (n % 3 === 0) throw new Error('cut');
              return paper;
            })
            .catch(() => null),
        ),
      );
      await other.close();
      for (const series of ['a', 'b']) {
        const numbers = papers.flatMap((paper) => (paper?.series === series ? [paper.number] : []));
        expect(numbers.length).toBeGreaterThan(5);
        expect(numbers.sort((a, b) => a - b)).toEqual(numbers.map((_, i) => i + 1));
        expect((await store.papersSince(series, 0, 99)).map(({ number }) => number)).toEqual(numbers);
      }
      const facts = await store.factsSince(0, 99);
      expect(facts.map(({ seq }) => seq)).toEqual(facts.map((_, i) => i + 1));
    });

    it('OR17: one paper a fact, however often it is asked for', async () => {
      const ask = () => store.write((writes) => writes.addPaper('a', 'invoice', told(1, 'k'), body));
      expect(await ask()).toEqual(await ask());
      expect(await store.papersOf(order(1))).toHaveLength(1);
    });

    it('OR18: a reader who goes on from where it was misses nothing and sees nothing twice', async () => {
      const seen: number[] = [];
      const writing = Promise.all(
        Array.from({ length: 30 }, (_, n) => store.write((writes) => writes.addFact(told(n, `k${n}`)))),
      );
      let isWriting = true;
      void writing.finally(() => {
        isWriting = false;
      });
      const reader = await place.open();
      while (isWriting || seen.length < 30)
        for (const { seq } of await reader.factsSince(seen.at(-1) ?? 0, 7)) seen.push(seq);
      await reader.close();
      expect(seen).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    });

    it('OR16: what was acknowledged is there when it is opened again, and opening twice changes nothing', async () => {
      await store.write(async (writes) => {
        await writes.addFact(told(1, 'a'));
        await writes.keep('crc', '1');
      });
      const again = await place.open();
      expect(await again.factsOf(order(1))).toHaveLength(1);
      expect(await again.kept('crc')).toBe('1');
      await again.write((writes) => writes.forget('crc'));
      expect(await store.kept('crc')).toBeNull();
      await again.close();
    });

    it('OR19: a voucher counts orders, once each, and an order that is cancelled gives it back', async () => {
      const voucher = { code: 'HALF', kind: 'percent', off: 5000, uses: 1, expiresAt: null } as const;
      const use = (n: number) => store.write((writes) => writes.takeVoucher('m', 'HALF', order(n)));
      await store.write((writes) => writes.putVoucher('m', voucher));
      expect(await store.voucher('m', 'HALF')).toEqual({ voucher, used: 0 });
      await use(1);
      await use(1);
      await use(2);
      expect((await store.voucher('m', 'HALF'))?.used).toBe(2);
      await store.write((writes) => writes.giveVoucherBack(order(1)));
      await store.write((writes) => writes.putVoucher('m', { ...voucher, uses: 5 }));
      expect(await store.vouchers('m')).toEqual([{ voucher: { ...voucher, uses: 5 }, used: 1 }]);
      expect(await store.voucher('other', 'HALF')).toBeNull();
    });

    it('OR27: of a prepaid code what its orders took is known; money of other ways and orders does not count', async () => {
      const voucher = {
        code: 'B',
        kind: 'prepaid',
        worth: minorOf(9, ''),
        reference: '',
        uses: null,
        expiresAt: null,
      } as const;
      await store.write((writes) => writes.putVoucher('m', voucher));
      const pay = (n: number, way: 'prepaid' | 'cash', amount: number) => {
        const fact = { kind: 'paid', amount: minorOf(amount, ''), way, reference: '' } as const;
        const told = { order: order(n), key: `${n} ${way}` as FactKey, at: epochMsOf(1), by: 'service', fact } as const;
        return store.write((writes) => writes.addFact(told));
      };
      for (const n of [1, 2]) await store.write((writes) => writes.takeVoucher('m', 'B', order(n)));
      for (const n of [1, 2, 3]) await pay(n, 'prepaid', n);
      await pay(1, 'cash', 50);
      expect(await store.vouchers('m')).toEqual([{ voucher, used: 2, spent: 3 }]);
      await store.write((writes) => writes.giveVoucherBack(order(2)));
      expect(await store.voucher('m', 'B')).toEqual({ voucher, used: 1, spent: 1 });
    });

    it('OR15: a webhook is new once; forgotten ones make room', async () => {
      const tell = (id: string, at: number) => store.write((writes) => writes.addWebhook(id, epochMsOf(at)));
      expect([await tell('a', 1), await tell('a', 2), await tell('b', 1000)]).toEqual([true, false, true]);
      expect(await store.write((writes) => writes.forgetWebhooks(epochMsOf(500)))).toBe(1);
      expect([await tell('a', 3), await tell('b', 3)]).toEqual([true, false]);
    });

    it('an offer takes the place of the one before; messages and letters are kept and found', async () => {
      const offer = { v: 1, meeting: 'm', edition: '1' } as Offer;
      const message = { id: 'x', meeting: 'm', kind: 'not-me', at: epochMsOf(5), words: { words: 'é' } } as const;
      const mail = {
        id: '<1@x>',
        order: order(1),
        body: 'b',
        tries: 0,
        nextAt: epochMsOf(10),
        outcome: 'waiting',
        said: '',
      } as const;
      await store.write(async (writes) => {
        await writes.putOffer(offer, epochMsOf(1));
        await writes.putOffer({ ...offer, edition: '2' }, epochMsOf(2));
        await writes.addMessage(message);
        await writes.addMessage({ ...message, words: {} });
        await writes.putMail(mail);
        await writes.putMail({ ...mail, id: '<2@x>', order: null, nextAt: epochMsOf(11) });
      });
      expect((await store.offer('m'))?.edition).toBe('2');
      expect(await store.offers()).toHaveLength(1);
      expect(await store.messagesSince(0, 9)).toEqual([{ ...message, seq: 1 }]);
      expect(await store.mailsDue(epochMsOf(10), 9)).toEqual([mail]);
      await store.write((writes) => writes.putMail({ ...mail, nextAt: null, outcome: 'sent', tries: 1, said: '250' }));
      expect(await store.mailsDue(epochMsOf(10), 9)).toEqual([]);
      expect((await store.mailsOf(order(1)))[0]?.outcome).toBe('sent');
      await store.write((writes) => writes.forgetMessage('x'));
      expect(await store.messagesSince(0, 9)).toEqual([]);
    });

    it('an offer is read as it stands: put anew in the same moment, and after a put that came to nothing', async () => {
      const edition = async () => [
        (await store.offer('m'))?.edition,
        ...(await store.offers()).map((one) => one.edition),
      ];
      const put = (text: string) =>
        store.write(async (writes) => {
          await writes.putOffer({ v: 1, meeting: 'm', edition: text } as Offer, epochMsOf(1));
          expect((await writes.offer('m'))?.edition).toBe(text);
          if (text === 'never') throw new Error('never');
        });
      expect(await edition()).toEqual([undefined]);
      await put('1');
      expect(await edition()).toEqual(['1', '1']);
      await expect(put('never')).rejects.toThrow('never');
      expect(await edition()).toEqual(['1', '1']);
      await put('2');
      expect(await edition()).toEqual(['2', '2']);
      expect(await store.offer('m')).toBe(await store.offer('m'));
    });

    it('OR20: a person taken out is in no table any more; the money stays', async () => {
      await store.write(async (writes) => {
        await writes.addFact(told(1, 'a', placed));
        await writes.addFact(told(1, 'b'));
        await writes.addPaper('a', 'invoice', told(1, 'b'), body);
        await writes.putMail({
          id: '<1@x>',
          order: order(1),
          body: 'someone@example.org',
          tries: 0,
          nextAt: null,
          outcome: 'sent',
          said: '',
        });
        await writes.removeContact(order(1), 'c' as FactKey, epochMsOf(9));
        await writes.removeContact(order(1), 'c' as FactKey, epochMsOf(9));
      });
      const all = [await store.factsOf(order(1)), await store.papersOf(order(1)), await store.mailsOf(order(1))];
      expect(JSON.stringify(all)).not.toMatch(/someone|1 Road/i);
      expect(all[0]!.map((one) => ('fact' in one ? one.fact.kind : ''))).toEqual(['placed', 'paid', 'contact-removed']);
      expect(all[1]).toHaveLength(1);
    });
  });
}

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

contract('orders in SQLite', () => {
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-orders-'));
  folders.push(folder);
  return Promise.resolve({ open: () => openLibsqlOrders(join(folder, 'orders.db')) });
});

describe.skipIf(!hasPostgres())('with a server', () => {
  let postgres: TestPostgres;
  beforeAll(async () => {
    postgres = await startPostgres();
    return () => postgres.stop();
  });
  contract('orders in PostgreSQL', async () => {
    const address = await postgres.freshAddress();
    return { open: () => openPostgresOrders(address) };
  });
});
