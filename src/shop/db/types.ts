/**
 * Where orders lie, behind a few methods: SQLite on a laptop or a small server, PostgreSQL for a larger one, by the same schema. Writes are
 * serial, one transaction each, so that a reader who has seen number n has seen all before it, and numbers of invoices have no gaps.
 */
import type {
  Fact,
  FactKey,
  KnownVoucher,
  MessageField,
  MessageKind,
  Offer,
  OrderId,
  StoredFact,
  Voucher,
} from '../../core/handover/orders/index.js';
import type { Paper, PaperBody, PaperKind } from '../../core/handover/orders/types.js';
import type { PublicId } from '../../core/handover/types.js';
import type { EpochMs } from '../../core/units.js';

/** As stored, with its place in the one sequence of all facts. */
export interface NumberedFact extends StoredFact {
  readonly seq: number;
}

/** What riders write by the gallery's forms. */
export interface Message {
  /** Of the form: sent twice it is one message. */
  readonly id: string;
  readonly meeting: PublicId;
  readonly kind: MessageKind;
  readonly at: EpochMs;
  readonly words: Readonly<Partial<Record<MessageField, string>>>;
}

export interface NumberedMessage extends Message {
  readonly seq: number;
}

/** A letter to go out; what is in it is the writer's, as text. */
export interface Mail {
  /** Its Message-ID: told twice to a server it is one letter. */
  readonly id: string;
  readonly order: OrderId | null;
  readonly body: string;
  readonly tries: number;
  /** When it is tried next; null once it went or was given up. */
  readonly nextAt: EpochMs | null;
  readonly outcome: 'waiting' | 'sent' | 'given-up';
  /** What the server said last. */
  readonly said: string;
}

export interface OrderReads {
  /** In the order they were told. */
  factsOf(order: OrderId): Promise<readonly NumberedFact[]>;
  factByKey(key: FactKey): Promise<NumberedFact | null>;
  /** Of all orders, after that place in the sequence. */
  factsSince(seq: number, most: number): Promise<readonly NumberedFact[]>;
  orders(): Promise<readonly OrderId[]>;
  papersOf(order: OrderId): Promise<readonly Paper[]>;
  papersSince(series: string, number: number, most: number): Promise<readonly Paper[]>;
  offer(meeting: PublicId): Promise<Offer | null>;
  offers(): Promise<readonly Offer[]>;
  voucher(meeting: PublicId, code: string): Promise<KnownVoucher | null>;
  vouchers(meeting: PublicId): Promise<readonly KnownVoucher[]>;
  messagesSince(seq: number, most: number): Promise<readonly NumberedMessage[]>;
  mailsDue(now: EpochMs, most: number): Promise<readonly Mail[]>;
  mailsOf(order: OrderId): Promise<readonly Mail[]>;
  /** Small values kept by name; null where there is none. */
  kept(name: string): Promise<string | null>;
}

/** Within one transaction. Waits for nothing but the database: all other writers wait for it. */
export interface OrderWrites extends OrderReads {
  /** A key that is known already is the same fact: the one told first comes back and nothing is written. */
  addFact(fact: StoredFact): Promise<{ readonly isNew: boolean; readonly fact: NumberedFact }>;
  /** Takes the next number of the series. One paper a fact: for the same fact the first comes back. */
  addPaper(
    series: string,
    kind: PaperKind,
    of: Pick<StoredFact, 'order' | 'key' | 'at'>,
    body: PaperBody,
  ): Promise<Paper>;
  /** In place of the meeting's offer before. */
  putOffer(offer: Offer, at: EpochMs): Promise<void>;
  putVoucher(meeting: PublicId, voucher: Voucher): Promise<void>;
  /** An order counts once, however often it is said. */
  takeVoucher(meeting: PublicId, code: string, order: OrderId): Promise<void>;
  giveVoucherBack(order: OrderId): Promise<void>;
  /** False where the webhook was told before. */
  addWebhook(id: string, at: EpochMs): Promise<boolean>;
  forgetWebhooks(before: EpochMs): Promise<number>;
  addMessage(message: Message): Promise<boolean>;
  forgetMessage(id: string): Promise<void>;
  putMail(mail: Mail): Promise<void>;
  /**
   * Takes the person out of what is stored: the contact of the placed fact, the buyer on papers, letters. Only the fact
   * `contact-removed` is added to say so; money and pictures stay.
   */
  removeContact(order: OrderId, key: FactKey, at: EpochMs): Promise<void>;
  keep(name: string, value: string): Promise<void>;
  forget(name: string): Promise<void>;
}

export interface OrderStore extends OrderReads {
  readonly engine: 'libsql' | 'postgresql';
  /** All of it or nothing; one after another. */
  write<Result>(work: (writes: OrderWrites) => Promise<Result>): Promise<Result>;
  close(): Promise<void>;
}

/** The fact a kind names. */
export type FactOf<K extends Fact['kind']> = Extract<Fact, { kind: K }>;
