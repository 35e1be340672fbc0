/** Rules HD3, HD17–HD20 of docs/rules/handing.md, against a mail server the tests start. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { OrderId } from '../../../core/handover/orders/index.js';
import { withdrawFromContract } from '../../service/deeds.js';
import { referenceOf } from '../../service/reference.js';
import { offerOfDay, pictureId } from '../../testing/shopDay.js';
import { dayOfRider, type HandingDay, handingDay, oneOf, paid, stateNow, tell } from '../testing.js';
import type { MailSettings } from '../types.js';
import { momentText } from '../words/index.js';
import { readMailSettings } from './mailSettings.js';
import { headerOf, partOf, refusal, startMail, type TestMail } from './testing.js';

const printOf = (n: number) =>
  ({ product: 'paper', asked: { kind: 'print', picture: pictureId(n) }, quantity: 1 }) as const;
const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;
let mail: TestMail;
let here: HandingDay;
const open = async (manners: Parameters<typeof startMail>[0] = {}, change: Partial<MailSettings> = {}) => {
  mail = await startMail(manners);
  here = await handingDay({ mail: { ...mail.settings, ...change } });
};
afterEach(async () => {
  await here.close();
  await mail.stop();
});

const ask = (path: string, method = 'GET') =>
  here.app.request(path, { method, headers: { host: 'orders.example.org' } });
const handed = async (
  ...words: Parameters<typeof paid> extends [unknown, ...infer R] ? R : never
): Promise<OrderId> => {
  const order = await paid(here.day, ...words);
  await here.settle();
  await here.handing.post!.carry();
  return order;
};
const mailsOf = (order: OrderId) => here.day.store.mailsOf(order);
const linkIn = (letter: string): string =>
  /https:\/\/orders\.example\.org(\/handed\/\S+)/.exec(partOf(letter, 'text/plain'))![1]!;

describe('a letter', () => {
  it('LW21: says that a withdrawal from the contract arrived, when and of what, once; it brings no pictures and is not taken for one that does', async () => {
    await open();
    const order = await paid(here.day, [oneOf(1), printOf(1)]);
    await withdrawFromContract(here.day, order, ['prints']);
    const at = here.day.now();
    for (let round = 0; round < 2; round++) {
      await here.settle();
      await here.handing.post!.carry();
    }
    const said = mail.letters.filter((letter) =>
      headerOf(letter, 'Subject')?.startsWith('Confirmation of the withdrawal'),
    );
    expect([said.length, mail.letters.length]).toEqual([1, 2]);
    const text = partOf(said[0]!, 'text/plain');
    for (const words of [momentText(at, 'en'), 'Prints', 'Someone', referenceOf(order)]) expect(text).toContain(words);
    expect(text).not.toContain('/handed/');
    const mails = (await here.day.store.factsOf(order)).filter(({ fact }) => fact.kind === 'handed-over');
    expect(mails).toHaveLength(1);
  });

  it('HD17: goes to the order’s address with the link, the order’s page and what was agreed, as text and as HTML', async () => {
    await open();
    const order = await handed();
    expect([mail.recipients, mail.letters.length]).toEqual([['someone@example.org'], 1]);
    const [letter] = mail.letters as [string];
    expect(headerOf(letter, 'From')).toBe('Trackside Pictures <pictures@orders.example.org>');
    expect(headerOf(letter, 'Reply-To')).toBe('hello@example.org');
    expect(headerOf(letter, 'Auto-Submitted')).toBe('auto-generated');
    expect(headerOf(letter, 'Subject')).toBe('Your pictures: Open day <b>at</b> Fallow Ring');
    expect((await ask(linkIn(letter))).status).toBe(200);
    const [text, page] = [partOf(letter, 'text/plain'), partOf(letter, 'text/html')];
    for (const words of [`https://orders.example.org/order/${order}`, 'Hello Someone,', '20 October 2026', 'I know.'])
      for (const part of [text, page]) expect(part).toContain(words);
    expect(text).toContain('– At once, <please>.');
    expect(page).toContain('At once, &lt;please&gt;.');
    const [stored] = await mailsOf(order);
    expect(stored).toMatchObject({ outcome: 'sent', tries: 1, nextAt: null, said: expect.stringMatching(/^250/) });
    // What lies in the database says nothing of the person.
    expect(stored!.body).toBe('{"generation":1}');
    const facts = await here.day.store.factsOf(order);
    expect(facts.flatMap(({ fact }) => (fact.kind === 'handed-over' ? [fact.what] : []))).toEqual(['mail', 'page']);
  });

  it.each([
    ['de', 'Ihre Bilder', 'Guten Tag Someone,'],
    ['fr', 'Vos photos', 'Bonjour Someone,'],
    ['it', 'Le tue foto', 'Ciao Someone,'],
    ['es', 'Tus fotos', 'Hola, Someone:'],
    ['ar', 'صورك', 'مرحبًا Someone،'],
  ])('HD17: is in the language of the order: %s', async (language, _, hello) => {
    await open();
    await handed([dayOfRider], undefined, language);
    const [letter] = mail.letters as [string];
    expect(partOf(letter, 'text/plain')).toContain(hello);
    expect(partOf(letter, 'text/html')).toContain(
      `<html lang="${language}" dir="${language === 'ar' ? 'rtl' : 'ltr'}">`,
    );
    expect(headerOf(letter, 'Content-Language')).toBe(language);
  });

  it('HD17: a name with line breaks makes no header', async () => {
    await open();
    await handed([dayOfRider], { name: 'A\r\nBcc: other@example.org', mail: 'someone@example.org', address: null });
    expect([mail.recipients, headerOf(mail.letters[0]!, 'Bcc')]).toEqual([['someone@example.org'], null]);
  });

  it('HD18: refused for good is given up at once, and buyer and photographer are told', async () => {
    await open({ toRecipient: () => refusal(550, 'No such box') });
    const order = await handed();
    expect(await mailsOf(order)).toMatchObject([
      { outcome: 'given-up', tries: 1, said: expect.stringContaining('No such box') },
    ]);
    expect(await (await ask(`/order/${order}`)).text()).toContain('The letter with the link did not arrive');
    const waiting: unknown = await (await here.admin.request('/api/handing')).json();
    expect(waiting).toMatchObject({ waiting: [{ order, letter: { outcome: 'given-up' } }] });
    here.day.turnClock(10 * DAY_MS);
    expect(await here.handing.post!.carry()).toBe(0);
  });

  it('HD18: that cannot go now is tried again, later and later, for four days and more, then given up', async () => {
    await open({ toRecipient: () => refusal(451, 'Come back later') });
    const order = await handed();
    const started = here.day.now();
    const tries: number[] = [];
    for (;;) {
      const [letter] = await mailsOf(order);
      tries.push(letter!.tries);
      if (letter!.nextAt === null) break;
      expect(letter!.outcome).toBe('waiting');
      here.day.turnClock(letter!.nextAt - here.day.now());
      await here.handing.post!.carry();
    }
    expect(tries).toEqual(tries.map((_, i) => i + 1));
    const days = (here.day.now() - started) / DAY_MS;
    expect(days).toBeGreaterThan(4);
    expect(await mailsOf(order)).toMatchObject([
      { outcome: 'given-up', said: expect.stringContaining('Come back later') },
    ]);
  });

  it('HD18: whose line broke goes again under the same Message-ID', async () => {
    await open({ toLetter: (nth) => (nth === 1 ? 'hang-up' : null) });
    const order = await handed();
    expect(await mailsOf(order)).toMatchObject([{ outcome: 'waiting', tries: 1 }]);
    here.day.turnClock(MINUTE_MS);
    expect(await here.handing.post!.carry()).toBe(1);
    const ids = mail.letters.map((letter) => headerOf(letter, 'Message-ID'));
    expect([ids.length, new Set(ids).size]).toEqual([2, 1]);
    expect(ids[0]).toMatch(/^<[0-9a-f]{32}@orders\.example\.org>$/);
    expect(await mailsOf(order)).toMatchObject([{ outcome: 'sent', tries: 2 }]);
  });

  it('HD18: nobody listens, and it waits', async () => {
    await open();
    await mail.stop();
    const order = await handed();
    expect(await mailsOf(order)).toMatchObject([{ outcome: 'waiting', said: expect.stringMatching(/ECONNREFUSED/) }]);
    mail = await startMail();
  });

  it('HD20: goes over TLS, from the start or asked for, with the password; a server without it gets nothing', async () => {
    await open({ tls: 'starttls' });
    if (mail.settings.authority === undefined) return;
    await handed();
    expect(mail.letters).toHaveLength(1);
    await Promise.all([here.close(), mail.stop()]);
    await open({ tls: 'from-start' });
    await handed();
    expect(mail.letters).toHaveLength(1);
    await Promise.all([here.close(), mail.stop()]);
    await open({}, { tls: 'starttls' });
    const order = await handed();
    expect([mail.letters, (await mailsOf(order))[0]!.outcome]).toEqual([[], 'waiting']);
    await Promise.all([here.close(), mail.stop()]);
    await open({ tls: 'from-start' }, { password: 'wrong' });
    const other = await handed();
    expect((await mailsOf(other))[0]).toMatchObject({
      outcome: 'waiting',
      said: expect.stringMatching(/Wrong password/),
    });
  });

  it('HD20: a certificate nobody vouches for is refused', async () => {
    await open({ tls: 'from-start' });
    if (mail.settings.authority === undefined) return;
    await here.close();
    const { authority: _, ...strange } = mail.settings;
    here = await handingDay({ mail: strange });
    const order = await handed();
    expect([mail.letters, (await mailsOf(order))[0]!.said]).toEqual([
      [],
      expect.stringMatching(/self-signed certificate/),
    ]);
  });
});

describe('a fresh link', () => {
  it('HD3: of one that ran out goes to the order’s address, once a quarter of an hour, and is never shown', async () => {
    await open();
    const order = await handed();
    const first = linkIn(mail.letters[0]!);
    here.day.turnClock(31 * DAY_MS);
    const page = await (await ask(first)).text();
    expect(page).toContain(`action="${first}/renew"`);
    expect(page).not.toContain('example.org/handed');
    const answers: string[] = [];
    for (const _ of [1, 2, 3]) {
      answers.push(await (await ask(`${first}/renew`, 'POST')).text());
      await here.settle();
      await here.handing.post!.carry();
    }
    expect(new Set(answers).size).toBe(1);
    expect(answers[0]).not.toMatch(/handed\/|someone@/);
    expect(mail.letters).toHaveLength(2);
    expect((await stateNow(here.day, order)).link?.generation).toBe(2);
    expect([(await ask(linkIn(mail.letters[1]!))).status, (await ask(first)).status]).toEqual([200, 410]);
    here.day.turnClock(16 * MINUTE_MS);
    await ask(`/order/${order}/letter`, 'POST');
    await here.handing.post!.carry();
    expect(mail.letters).toHaveLength(3);
    // Still good for long: the same link once more, in another letter.
    expect(linkIn(mail.letters[2]!)).toBe(linkIn(mail.letters[1]!));
    expect(headerOf(mail.letters[2]!, 'Message-ID')).not.toBe(headerOf(mail.letters[1]!, 'Message-ID'));
  });

  it('HD3: of an order whose person was taken out goes nowhere, and the answer is the same', async () => {
    await open();
    const order = await handed();
    const link = linkIn(mail.letters[0]!);
    here.day.turnClock(31 * DAY_MS);
    const before = await (await ask(`${link}/renew`, 'POST')).text();
    await here.handing.post!.carry();
    here.day.turnClock(31 * DAY_MS);
    await tell(here.day, order, { kind: 'contact-removed' });
    expect(await (await ask(`${link}/renew`, 'POST')).text()).toBe(before);
    await here.handing.post!.carry();
    expect([mail.letters.length, await mailsOf(order)]).toEqual([2, []]);
  });

  it('HD4: is not sent of a link that was taken back, and a letter that still waits with it goes no more', async () => {
    await open({ toRecipient: () => refusal(451, 'Come back later') });
    const order = await handed();
    await here.admin.request(`/api/handing/${order}/revoke`, { method: 'POST' });
    here.day.turnClock(DAY_MS);
    await ask(`/order/${order}/letter`, 'POST');
    await here.handing.post!.carry();
    expect(await mailsOf(order)).toMatchObject([
      { outcome: 'given-up', said: 'There was nobody to write to any more.' },
    ]);
    expect(await (await ask(`/order/${order}`)).text()).toContain('This link was taken back');
  });

  it('HD6: waits with the signs: no letter goes before', async () => {
    mail = await startMail();
    const riders = offerOfDay.riders.map((rider) => ({ ...rider, isJoinedByGuess: true }));
    here = await handingDay({ mail: mail.settings, offer: { ...offerOfDay, riders } });
    const order = await handed();
    expect([mail.letters, await mailsOf(order)]).toEqual([[], []]);
    for (const by of ['Ann', 'Bo']) {
      const body = JSON.stringify({ by, pictures: [pictureId(1), pictureId(2)] });
      await here.admin.request(`/api/handing/${order}/sign`, { method: 'POST', body });
    }
    await here.settle();
    await here.handing.post!.carry();
    expect(mail.letters).toHaveLength(1);
  });
});

describe('the settings of a mail server', () => {
  it('HD20: are read, or refused with a sentence that holds no password', async () => {
    await open();
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-mail-'));
    try {
      expect(await readMailSettings(folder)).toBeNull();
      const good = {
        v: 1,
        host: 'mail.example.org',
        port: 587,
        tls: 'starttls',
        user: 'shop',
        password: 'secret-word',
        from: { name: 'Pictures', address: 'pictures@example.org' },
      };
      const write = (text: string) => writeFile(join(folder, 'mail.json'), text);
      await write(JSON.stringify(good));
      expect(await readMailSettings(folder)).toMatchObject({ host: 'mail.example.org', tls: 'starttls' });
      for (const [text, words] of [
        ['{"v": 1, "password": "secret-word"', /Expected JSON in .*mail\.json/],
        [JSON.stringify({ ...good, port: 'secret-word' }), /at port: .*Mend that line, or remove the file/],
        [JSON.stringify({ ...good, tls: 'none' }), /at tls: .*without TLS only for a server on this machine/],
      ] as const) {
        await write(text);
        const refused = readMailSettings(folder).catch((error: Error) => error.message);
        expect(await refused).toMatch(words);
        expect(await refused).not.toContain('secret-word');
      }
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
