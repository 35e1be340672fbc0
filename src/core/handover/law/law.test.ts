import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FrameId, GestureId } from '../../ids.js';
import type { Judged } from '../../judge/types.js';
import { type EpochMs, epochMsOf } from '../../units.js';
import { type Fact, type FactKey, type Minor, type OrderId, type OrderLine, stateOf } from '../orders/index.js';
import { totalsOf } from '../orders/totals.js';
import { askToHold } from './askToHold.js';
import { cancellationOf, consentTroubles, daysEnd } from './consent.js';
import { CHECK_WITH_LOCAL_LAW, LAW_LANGUAGES, licenceTemplate, usageTermsOf } from './licences.js';
import { privacyNotice } from './privacyNotice.js';
import { isWhole, proofText, provedAgain } from './proof.js';
import { KEPT_KINDS, NOTICE_DAYS, planRetention, retentionSentence, USUAL_DAYS } from './retention.js';
import type { TakeDownProof } from './types.js';
import { refundSentence, refundWrongRider } from './wrongRider.js';

const ABOUT = {
  name: 'Ebbstone',
  firstDay: '2026-09-19',
  creator: 'R. Quill',
  credit: 'Quill Pictures',
  contact: 'hello@quill.example',
};
const LICENCES = ['personal', 'press', 'sponsor'] as const;
const DAY = 86_400_000;
const at = (ms: number): EpochMs => epochMsOf(ms);

describe('LW1: licences', () => {
  it('are filled in every language with the meeting’s own data and leave no hole', () => {
    for (const language of LAW_LANGUAGES)
      for (const licence of LICENCES) {
        const holes = [...new Set(licenceTemplate(licence, language).match(/\{[^}]*\}/g))].sort();
        expect(holes, `${language} ${licence}`).toEqual(['{contact}', '{credit}', '{day}', '{meeting}']);
        const text = usageTermsOf(licence, language, ABOUT);
        expect(text).not.toMatch(/[{}]/);
        for (const own of ['Ebbstone', 'Quill Pictures', 'hello@quill.example']) expect(text).toContain(own);
      }
  });
  it('differ by licence and language, and each language marks them to be checked', () => {
    const texts = LAW_LANGUAGES.flatMap((language) => LICENCES.map((one) => usageTermsOf(one, language, ABOUT)));
    expect(new Set(texts).size).toBe(18);
    expect(new Set(Object.values(CHECK_WITH_LOCAL_LAW)).size).toBe(6);
  });
  it('LW2: the photographer’s own text takes the same holes, an unknown hole is left to be seen', () => {
    const own = 'Ours for {credit}, {day}, {nobody}';
    expect(usageTermsOf('press', 'de-AT', ABOUT, own)).toBe('Ours for Quill Pictures, 19. September 2026, {nobody}');
    expect(usageTermsOf('press', 'nl', ABOUT, ' ')).toBe(usageTermsOf('press', 'en', ABOUT));
    expect(usageTermsOf('press', 'en', ABOUT, '{constructor}')).toBe('{constructor}');
  });
});

const line = (picture: string, price: number, pictures: readonly string[] = [picture]): OrderLine => ({
  product: 'one',
  asked: { kind: 'picture', picture },
  quantity: 1,
  name: 'Picture',
  unitPrice: price as Minor,
  taxRate: 2000,
  licence: 'personal',
  longEdgePx: null,
  pictures,
});
const CONSENT = {
  immediateSupply: { at: at(900), words: 'I want them at once.' },
  lossOfCancellation: { at: at(900), words: 'I lose my right.' },
};
function orderOf(lines: readonly OrderLine[], facts: readonly Fact[], consent: typeof CONSENT | null = CONSENT) {
  const placed: Fact = {
    kind: 'placed',
    meeting: 'm',
    edition: 'e',
    lines,
    totals: totalsOf(lines, { currency: 'EUR', includesTax: true }),
    voucher: null,
    way: 'cash',
    contact: { name: 'A rider', mail: 'a@example.org', address: null },
    consent,
    language: 'en',
  };
  const id = 'o' as OrderId;
  const told = [placed, ...facts].map((fact, i) => ({
    order: id,
    key: `k${i}` as FactKey,
    at: at(1000 + i * 1000),
    by: 'service' as const,
    fact,
  }));
  return stateOf(id, told);
}
const paid = (amount: number): Fact => ({ kind: 'paid', amount: amount as Minor, way: 'cash', reference: '' });
const handed = (what: 'mail' | 'picture'): Fact => ({ kind: 'handed-over', what, picture: null, bytes: 1 });

describe('LW3: consent to downloads', () => {
  const placed = (consent: typeof CONSENT | null, asked: OrderLine['asked'] = { kind: 'picture', picture: 'p' }) => ({
    lines: [{ ...line('p', 1), asked }],
    consent,
    at: at(1000),
  });
  it('is two ticks with their own words, before the order; prints need none', () => {
    expect(consentTroubles(placed(CONSENT))).toEqual([]);
    expect(consentTroubles(placed(null))).toEqual(['not-given']);
    expect(consentTroubles(placed(null, { kind: 'print', picture: 'p' }))).toEqual([]);
    const twice = { ...CONSENT, lossOfCancellation: { at: at(900), words: ' I want  them at once. ' } };
    expect(consentTroubles(placed(twice))).toEqual(['one-tick-for-both']);
    const late = { ...CONSENT, immediateSupply: { at: at(1001), words: 'x' } };
    expect(consentTroubles(placed(late))).toEqual(['after-the-order']);
    const mute = { ...CONSENT, immediateSupply: { at: at(1), words: ' ' } };
    expect(consentTroubles(placed(mute))).toEqual(['without-words']);
  });
  it('LW4: the right to cancel is lost only by both ticks, the confirmation and the first picture', () => {
    const now = at(10_000);
    expect(cancellationOf(orderOf([line('p', 500)], [paid(500)]), now)).toMatchObject({ why: 'not-handed-over' });
    expect(cancellationOf(orderOf([line('p', 500)], [paid(500), handed('picture')]), now)).toMatchObject({
      kind: 'until',
      until: 15 * DAY - 1,
      why: 'not-confirmed',
    });
    const both = [paid(500), handed('mail'), handed('picture')];
    expect(cancellationOf(orderOf([line('p', 500)], both), now)).toEqual({ kind: 'lost', since: 4000 });
    expect(cancellationOf(orderOf([line('p', 500)], both, null), now)).toMatchObject({ why: 'not-given' });
    expect(cancellationOf(orderOf([line('p', 500)], both, null), at(15 * DAY))).toMatchObject({ kind: 'run-out' });
  });
  it('LW4: fourteen whole days after the day of the order, to the end of the last; never on a weekend, in whatever zone the buyer is', () => {
    const end = (text: string) => new Date(daysEnd(at(Date.parse(text)))).toISOString();
    expect(end('2026-09-17T10:00Z')).toBe('2026-10-01T23:59:59.999Z');
    expect(end('2026-09-19T10:00Z')).toBe('2026-10-05T23:59:59.999Z');
    expect(end('2026-09-20T10:00Z')).toBe('2026-10-05T23:59:59.999Z');
    // In the east it is the 23rd already.
    expect(end('2026-09-22T22:00Z')).toBe('2026-10-07T23:59:59.999Z');
  });
});

describe('LW6: "not me"', () => {
  it('takes the picture out and gives its line back, in one action', () => {
    const order = orderOf(
      [line('p', 500), line('q', 700)],
      [paid(1200), { kind: 'link-made', generation: 1, expiresAt: at(9e9) }],
    );
    const facts = refundWrongRider(order, ['q', 'z'], 'a1');
    expect(facts.map(({ key, fact }) => [key, fact])).toEqual([
      ['a1-refunded', { kind: 'refunded', amount: 700, why: 'wrong-rider', reference: 'wrong rider, 1 of 2' }],
      ['a1-withdrawn', { kind: 'withdrawn', pictures: ['q'], why: 'wrong-rider' }],
    ]);
    expect(refundSentence(facts, (amount) => `${amount / 100}`)).toBe('1 picture leaves the order and 7 goes back.');
    const after = orderOf([line('p', 500), line('q', 700)], [paid(1200), ...facts.map(({ fact }) => fact)]);
    expect(refundWrongRider(after, ['q'], 'a2')).toEqual([]);
    expect(refundSentence([], String)).toMatch(/nothing changes/);
    expect(refundWrongRider(order, ['p', 'q'], 'a3').at(-1)?.fact).toEqual({ kind: 'link-revoked', generation: 1 });
  });
  it('of a set gives back the share, rounded to the buyer’s good, and of what was not paid nothing', () => {
    const set = line('p', 1000, ['p', 'q', 'r']);
    const refund = (facts: readonly Fact[]) =>
      refundWrongRider(orderOf([set], facts), ['q'], 'a').find(({ fact }) => fact.kind === 'refunded')?.fact;
    expect(refund([paid(1000)])).toMatchObject({ amount: 334 });
    expect(refund([])).toBeUndefined();
  });
  it('LW7: whatever is said wrong and in whatever parts, never more goes back than came, all for all', () => {
    const lines = fc.array(
      fc.record({ price: fc.integer({ min: 0, max: 9999 }), size: fc.integer({ min: 1, max: 6 }) }),
      { minLength: 1, maxLength: 5 },
    );
    const steps = fc.array(fc.array(fc.integer({ min: 0, max: 29 }), { maxLength: 10 }), { maxLength: 5 });
    fc.assert(
      fc.property(lines, steps, fc.double({ min: 0, max: 1, noNaN: true }), (asked, wrongs, share) => {
        const own = asked.map(({ price, size }, i) =>
          line(
            `${i}`,
            price,
            Array.from({ length: size }, (_, k) => `${i * 6 + k}`),
          ),
        );
        const total = totalsOf(own, { currency: 'EUR', includesTax: true }).toPay;
        const money = Math.floor(total * share);
        let facts: readonly Fact[] = money > 0 ? [paid(money)] : [];
        for (const wrong of [...wrongs, Array.from({ length: 30 }, (_, k) => k)]) {
          const told = refundWrongRider(orderOf(own, facts), wrong.map(String), 'a');
          facts = [...facts, ...told.map(({ fact }) => fact)];
        }
        const state = orderOf(own, facts);
        expect(state.pictures).toEqual([]);
        expect(state.refunded).toBe(state.paid);
      }),
      { numRuns: 200 },
    );
  });
});

describe('LW11: the proof of a takedown', () => {
  const proof = (standing: 'cleared' | 'pending', what: string): TakeDownProof => ({
    v: 1,
    meeting: 'Ebbstone',
    gesture: 'g' as GestureId,
    saidAt: at(0),
    provedAt: at(DAY),
    asked: 'rider',
    addresses: ['ab'.repeat(16)],
    places: [
      {
        place: 'web',
        kind: 'put-up',
        removed: [{ what, sha256: 'f'.repeat(64), bytes: 12 }],
        ...(standing === 'cleared' ? { standing } : { standing, sentence: 'not reached' }),
      },
    ],
  });
  it('says what left where with its hash, and what is still to leave', () => {
    const text = proofText(proof('pending', 'proof/x.jpg'));
    expect(text).toContain(`proof/x.jpg  12 bytes  SHA-256 ${'f'.repeat(64)}`);
    expect(text).toMatch(/Still to leave {3}web/);
    expect(text).toContain('ab'.repeat(16));
    expect(isWhole(proof('pending', 'x'))).toBe(false);
  });
  it('looked at again keeps what was removed before, and is whole when the last place is', () => {
    const again = provedAgain(proof('pending', 'one'), { ...proof('cleared', 'two'), saidAt: at(5) });
    expect(again.places[0]!.removed.map(({ what }) => what)).toEqual(['one', 'two']);
    expect([isWhole(again), again.saidAt]).toEqual([true, 0]);
    const other = { ...proof('cleared', 'three'), places: [] };
    expect(provedAgain(again, other).places).toHaveLength(1);
  });
});

describe('LW12: what is kept how long', () => {
  const kept = [{ kind: 'proofs', count: 3, bytes: 2e6, from: at(0) }] as const;
  const plan = (now: number, more: Partial<Parameters<typeof planRetention>[0]> = {}) =>
    planRetention({ kept, days: USUAL_DAYS, saidAt: {}, isStopped: false, now: at(now), ...more })[0]!;
  it('says it beforehand, a week at least, then goes; a stop keeps it', () => {
    const end = USUAL_DAYS.proofs * DAY;
    expect(plan(end - 8 * DAY).standing).toBe('kept');
    expect(plan(end - 7 * DAY).standing).toBe('to-be-said');
    expect(plan(end + 900 * DAY)).toMatchObject({ standing: 'to-be-said', goesAt: null });
    const saidAt = { proofs: at(end - DAY) };
    expect(plan(end, { saidAt })).toMatchObject({ standing: 'said', goesAt: end + 6 * DAY });
    expect(plan(end + 6 * DAY, { saidAt }).standing).toBe('due');
    expect(plan(end + 60 * DAY, { saidAt, isStopped: true }).standing).toBe('stopped');
  });
  it('each in a sentence with count, size and day', () => {
    expect(retentionSentence(plan(0))).toBe('proofs (3, 2.0 MB): kept until 1971-01-01.');
    for (const kind of KEPT_KINDS) expect(USUAL_DAYS[kind]).toBeGreaterThan(NOTICE_DAYS);
  });
  it('LW13: nothing goes that was not said a week before, whatever the days and the clock', () => {
    fc.assert(
      fc.property(
        fc.record({ days: fc.integer({ min: 0, max: 4000 }), said: fc.option(fc.integer({ min: 0, max: 4000 })) }),
        fc.integer({ min: 0, max: 9000 }),
        fc.boolean(),
        ({ days, said }, now, isStopped) => {
          const saidAt = said === null ? {} : { proofs: at(said * DAY) };
          const one = plan(now * DAY, { days: { ...USUAL_DAYS, proofs: days }, saidAt, isStopped });
          if (one.standing !== 'due') return;
          expect(isStopped).toBe(false);
          expect(now).toBeGreaterThanOrEqual(Math.max(days, said! + NOTICE_DAYS));
        },
      ),
    );
  });
});

it('LW18: frames that may show a fall are asked about with why, once, and none is held by itself', () => {
  const judged = (leanDeg: number, aspect: number): Judged =>
    ({ lean: { kind: 'lean', leanDeg }, aspect }) as unknown as Judged;
  const frames = ['steep', 'lying', 'plain', 'answered'].map((frame) => ({ frameId: frame as FrameId, subject: 0 }));
  const known = new Map([
    ['steep:0', judged(-71, 1.2)],
    ['lying:0', judged(10, 3)],
    ['plain:0', judged(58, 1.6)],
    ['answered:0', judged(80, 3)],
  ]);
  expect(askToHold(frames, known, new Set(['answered' as FrameId]))).toEqual([
    { frame: 'steep', why: ['Bike and rider lean 71° in the picture.'] },
    { frame: 'lying', why: ['The bike is 3.0 times as wide as it is high: it may lie.'] },
  ]);
});

it('LW5: the privacy notice says who, why, how long and how to object, in six languages, as a template', () => {
  for (const language of LAW_LANGUAGES) {
    const { title, mark, paragraphs } = privacyNotice(language, ABOUT, { galleries: 200 });
    expect(paragraphs).toHaveLength(6);
    expect(title).not.toBe('');
    expect(mark).toBe(CHECK_WITH_LOCAL_LAW[language]);
    const text = paragraphs.join('\n');
    for (const own of ['R. Quill', 'Ebbstone', 'hello@quill.example', '200']) expect(text).toContain(own);
  }
});
