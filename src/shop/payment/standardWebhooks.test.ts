/** Rule OR23 of docs/rules/orders.md. */
import { Webhook } from 'standardwebhooks';
import { describe, expect, it } from 'vitest';
import { signWebhook, verifyWebhook, webhookKeyOf } from './standardWebhooks.js';

/** Published with the specification's reference libraries (standard-webhooks/standard-webhooks, test of signing). */
const published = {
  secret: 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw',
  id: 'msg_p5jXN8AQM9LWM0D4loKWxJek',
  timestamp: '1614265330',
  body: '{"test": 2432232314}',
  signature: 'v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=',
};
const at = 1614265330_000;
const key = webhookKeyOf(published.secret)!;
const other = Buffer.alloc(32, 7);
const verify = (change: Partial<typeof published> = {}, keys = [key], now = at) =>
  verifyWebhook({ ...published, ...change }, keys, now);

describe('signatures of webhooks', () => {
  it('OR23: the published example is signed and verified', () => {
    expect(signWebhook(key, published.id, published.timestamp, published.body)).toBe(published.signature);
    expect(verify()).toEqual({ kind: 'signed', id: published.id });
  });

  it('OR23: agrees with the specification’s own library, both ways', () => {
    const theirs = new Webhook(published.secret);
    for (const body of ['', '{}', '{"name":"Zoë 🏍 <script>"}', 'x'.repeat(5000)]) {
      const now = new Date();
      const timestamp = String(Math.floor(now.getTime() / 1000));
      const signature = theirs.sign('msg_1', now, body);
      expect(verify({ id: 'msg_1', timestamp, body, signature }, [key], now.getTime()).kind).toBe('signed');
      const ours = signWebhook(key, 'msg_2', timestamp, '{"a":1}');
      const headers = { 'webhook-id': 'msg_2', 'webhook-timestamp': timestamp, 'webhook-signature': ours };
      expect(theirs.verify('{"a":1}', headers)).toEqual({ a: 1 });
    }
  });

  it('OR23: any change of id, time, body, key or signature is refused', () => {
    const why = (change: Partial<typeof published>, keys = [key]) => {
      const outcome = verify(change, keys);
      return outcome.kind === 'refused' ? outcome.why : outcome.kind;
    };
    expect(why({ id: 'msg_other' })).toBe('not-signed-by-us');
    expect(why({ timestamp: '1614265331' })).toBe('not-signed-by-us');
    expect(why({ body: '{"test":2432232314}' })).toBe('not-signed-by-us');
    expect(why({}, [other])).toBe('not-signed-by-us');
    expect(why({}, [])).toBe('not-signed-by-us');
    expect(why({ signature: published.signature.replace('v1,', 'v1a,') })).toBe('not-signed-by-us');
    expect(why({ signature: published.signature.slice(0, -2) })).toBe('not-signed-by-us');
    expect(why({ signature: '' })).toBe('incomplete');
    expect(why({ id: 'msg.1' })).toBe('incomplete');
    expect(why({ timestamp: '1614265330.5' })).toBe('incomplete');
    expect(why({ timestamp: 'NaN' })).toBe('incomplete');
  });

  it('OR23: five minutes early or late is good, a second more is not', () => {
    for (const [away, kind] of [
      [300_000, 'signed'],
      [-300_000, 'signed'],
      [301_000, 'refused'],
      [-301_000, 'refused'],
    ] as const)
      expect(verify({}, [key], at + away).kind).toBe(kind);
  });

  it('OR23: while keys are changed either key and any of several signatures is good', () => {
    const second = signWebhook(other, published.id, published.timestamp, published.body);
    const signature = `v1a,AAAA v1,AAAA ${second} ${published.signature}`;
    expect(verify({ signature }, [key]).kind).toBe('signed');
    expect(verify({ signature: second }, [key, other]).kind).toBe('signed');
  });

  it('OR23: a key that is none, or too short to be safe, is no key', () => {
    expect(webhookKeyOf('whsec_not base64')).toBeNull();
    expect(webhookKeyOf(`whsec_${Buffer.alloc(23).toString('base64')}`)).toBeNull();
    expect(webhookKeyOf(`whsec_${Buffer.alloc(64).toString('base64')}`)).toHaveLength(64);
    expect(webhookKeyOf('')).toBeNull();
  });
});
