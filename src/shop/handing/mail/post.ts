/**
 * Letters go out from a queue in the orders' database, at least once: a letter is put down as tried before it is tried, and as sent after
 * the server has taken it. Killed in between it goes once more, under the same Message-ID, so that whoever gets it can tell. A refusal
 * for good is kept for the photographer; anything else is tried again, later and later. Rules HD17–HD20.
 */
import { createHash } from 'node:crypto';
import { rootCertificates } from 'node:tls';
import { createTransport, type Transporter } from 'nodemailer';
import type { FactKey, OrderId, StoredFact } from '../../../core/handover/orders/index.js';
import { epochMsOf } from '../../../core/units.js';
import type { Mail, OrderWrites } from '../../db/index.js';
import type { ShopPorts } from '../../service/types.js';
import type { MailSettings } from '../types.js';
import type { Letter } from './letter.js';

/**
 * Minutes to the next try. RFC 5321, 4.5.4.1 wants half an hour or more between tries but for the first, and four to five days before
 * giving up: a mail server that greylists answers after minutes, one that is down may be so over a weekend.
 */
const PAUSES_MIN = [1, 5, 30, 60, 240, 480, 720, 1440, 1440, 1440, 1440] as const;
const CONNECT_MS = 20_000;
const SILENT_MS = 60_000;

/** What a letter in the queue is of, a link or a withdrawal from the contract; the rest is made when it goes. */
export type QueuedLetter = { readonly generation: number } | { readonly withdrawnAt: number };

const queuedOf = ({ body }: Pick<Mail, 'body'>): QueuedLetter => JSON.parse(body) as QueuedLetter;

/** Whether it brings pictures. */
export const isOfLink = (mail: Pick<Mail, 'body'>): boolean => 'generation' in queuedOf(mail);

/** Null where there is nobody to write to, or nothing to write of, any more. */
export type Writer = (order: OrderId, queued: QueuedLetter) => Promise<Letter | null>;

/** The same for the same letter. The part behind the @ is the sender's, as RFC 5322, 3.6.4 has it. */
export function queuedMail(
  order: OrderId,
  queued: QueuedLetter,
  nth: number,
  { from }: Pick<MailSettings, 'from'>,
  now: StoredFact['at'],
): Mail {
  const hash = createHash('sha256')
    .update(JSON.stringify([order, queued, nth]))
    .digest('hex')
    .slice(0, 32);
  const id = `<${hash}@${from.address.slice(from.address.lastIndexOf('@') + 1)}>`;
  return { id, order, body: JSON.stringify(queued), tries: 0, nextAt: now, outcome: 'waiting', said: '' };
}

export class Post {
  readonly settings: MailSettings;
  readonly #ports: Pick<ShopPorts, 'store' | 'now'>;
  readonly #write: Writer;
  readonly #transport: Transporter;
  #carrying: Promise<number> | null = null;

  constructor(ports: Pick<ShopPorts, 'store' | 'now'>, settings: MailSettings, write: Writer) {
    this.settings = settings;
    this.#ports = ports;
    this.#write = write;
    this.#transport = transportOf(settings);
  }

  /** All that is due, one after the other; returns how many went. Called again while it runs, it is the same run. */
  carry(): Promise<number> {
    this.#carrying ??= this.#carryAll().finally(() => {
      this.#carrying = null;
    });
    return this.#carrying;
  }

  async close(): Promise<void> {
    await this.#carrying?.catch(() => undefined);
    this.#transport.close();
  }

  async #carryAll(): Promise<number> {
    let sent = 0;
    for (let mail = await this.#take(); mail !== null; mail = await this.#take())
      if (await this.#carry(mail)) sent += 1;
    return sent;
  }

  /** Put down as tried and as due later, in one transaction, so that another process does not take it, too. */
  #take(): Promise<Mail | null> {
    const { store, now } = this.#ports;
    return store.write(async (writes) => {
      const [due] = await writes.mailsDue(now(), 1);
      if (!due) return null;
      const taken = { ...due, tries: due.tries + 1, nextAt: laterBy(now(), due.tries) };
      await writes.putMail(taken);
      return taken;
    });
  }

  async #carry(mail: Mail): Promise<boolean> {
    const letter = mail.order === null ? null : await this.#write(mail.order, queuedOf(mail));
    if (letter === null) {
      await this.#put({ ...mail, nextAt: null, outcome: 'given-up', said: 'There was nobody to write to any more.' });
      return false;
    }
    try {
      const { response, bytes } = await this.#send(mail.id, letter);
      await this.#put({ ...mail, nextAt: null, outcome: 'sent', said: oneLine(response) }, bytes);
      return true;
    } catch (error) {
      const said = oneLine((error as Error).message);
      const isLast = isForGood(error) || mail.tries >= PAUSES_MIN.length;
      await this.#put(isLast ? { ...mail, nextAt: null, outcome: 'given-up', said } : { ...mail, said });
      return false;
    }
  }

  async #send(messageId: string, { to, replyTo, language, subject, text, html }: Letter) {
    const { from } = this.settings;
    const info = await this.#transport.sendMail({
      messageId,
      from,
      to,
      ...(replyTo === null ? {} : { replyTo }),
      subject,
      text,
      html,
      // Nobody should answer it by machine (RFC 3834, 5).
      headers: { 'Auto-Submitted': 'auto-generated', 'Content-Language': language },
    });
    return { response: String(info.response ?? ''), bytes: Buffer.byteLength(text) + Buffer.byteLength(html) };
  }

  /** That a letter with a link went is a fact of the order, in the same transaction. */
  async #put(mail: Mail, sentBytes?: number): Promise<void> {
    const { store, now } = this.#ports;
    await store.write(async (writes) => {
      const isStillThere = mail.order !== null && (await isAmong(writes, mail.order, mail.id));
      // Letters of who was taken out of an order are gone and stay so.
      if (!isStillThere) return;
      await writes.putMail(mail);
      if (sentBytes === undefined || !isOfLink(mail)) return;
      const fact = { kind: 'handed-over', what: 'mail', picture: null, bytes: sentBytes } as const;
      await writes.addFact({ order: mail.order, key: `mail ${mail.id}` as FactKey, at: now(), by: 'service', fact });
    });
  }
}

const isAmong = async (writes: OrderWrites, order: OrderId, id: string): Promise<boolean> =>
  (await writes.mailsOf(order)).some((mail) => mail.id === id);

const laterBy = (now: StoredFact['at'], tries: number): StoredFact['at'] =>
  epochMsOf(now + PAUSES_MIN[Math.min(tries, PAUSES_MIN.length - 1)]! * 60_000);

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim().slice(0, 300);

/** The server said no to this recipient or this letter, as RFC 5321, 4.2.1 means with a reply of 5yz. A wrong password is ours to mend. */
function isForGood(error: unknown): boolean {
  const { code, responseCode } = error as { code?: string; responseCode?: number };
  return (code === 'EENVELOPE' || code === 'EMESSAGE') && responseCode !== undefined && responseCode >= 500;
}

function transportOf({ host, port, tls, user, password, authority }: MailSettings): Transporter {
  return createTransport({
    host,
    port,
    secure: tls === 'from-start',
    requireTLS: tls === 'starttls',
    ignoreTLS: tls === 'none',
    ...(user === null ? {} : { auth: { user, pass: password ?? '' } }),
    tls: {
      minVersion: 'TLSv1.2',
      ...(authority === undefined ? {} : { ca: [...rootCertificates, authority] }),
    },
    connectionTimeout: CONNECT_MS,
    greetingTimeout: CONNECT_MS,
    socketTimeout: SILENT_MS,
    // A letter is what is in its text; nothing is fetched for it.
    disableFileAccess: true,
    disableUrlAccess: true,
  }) as Transporter;
}
