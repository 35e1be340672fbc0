/** The tables, in types both databases have: text, whole numbers. Times are ISO 8601 in UTC, records are JSON as text. */

/** Of facts and messages. Its row is the lock of all writers, on PostgreSQL over processes. */
export const SEQUENCE = 'facts';

export interface Tables {
  facts: { seq: number; order_id: string; fact_key: string; kind: string; at: string; by: string; body: string };
  papers: {
    series: string;
    number: number;
    kind: string;
    order_id: string;
    fact_key: string;
    at: string;
    body: string;
  };
  series: { name: string; last: number };
  offers: { meeting: string; at: string; body: string };
  vouchers: { meeting: string; code: string; body: string };
  voucher_uses: { order_id: string; meeting: string; code: string };
  webhooks: { id: string; at: string };
  messages: { seq: number; id: string; meeting: string; kind: string; at: string; body: string };
  mails: {
    id: string;
    order_id: string | null;
    tries: number;
    next_at: string | null;
    outcome: string;
    said: string;
    body: string;
  };
  kept: { name: string; value: string };
}
