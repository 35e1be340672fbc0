import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { subjectOf } from '../../../../test/builders/subjects.js';
import type { BodyKey, FileId, FrameId, PersonId } from '../../ids.js';
import { checkDecision } from '../../log/index.js';
import { wallOfEpoch } from '../../numeric/wallTime.js';
import { epochMsOf, wallMsOf } from '../../units.js';
import type { FrameMeasured, Subject } from '../types.js';
import {
  CARD_MM,
  type ClockFrame,
  callRoll,
  clockCardText,
  layCardSheets,
  type NumberCardFrame,
  numberCardText,
  proposeClocks,
  proposeRiders,
  qrPath,
  readClockCard,
  readNumberCard,
  withCards,
} from './index.js';

const TOKEN = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const frameId = (name: string) => name as FrameId;
const at = { x: 0.5, y: 0.5 };
const measured = (...subjects: Subject[]) =>
  ({ kind: 'measured', subjects, dividerScore: 0.3 }) as unknown as FrameMeasured;

describe('cards', () => {
  it('PL720: a clock card says its time, body and next session, in a code of 25 modules', () => {
    fc.assert(
      fc.property(
        fc.nat(4e12),
        fc.nat(99),
        fc.option(fc.stringMatching(/^[A-Z0-9 ]{1,12}$/), { nil: undefined }),
        (ms, body, next) => {
          const shownAt = epochMsOf(1e12 + ms);
          const text = clockCardText({ shownAt, body, ...(next !== undefined && { next }) });
          expect(readClockCard(text)).toEqual({
            kind: 'clock-card',
            shownAt,
            body,
            ...(next !== undefined && { next }),
          });
        },
      ),
    );
    const text = clockCardText({ shownAt: epochMsOf(Date.UTC(2026, 8, 19)), body: 2, next: 'Groupe 3, après-midi' });
    expect(readClockCard(text)?.next).toBe('GROUPE 3 APR');
    // 25 modules and four of white on either side: version 2 (ISO/IEC 18004).
    expect(qrPath(text, 'M')?.size).toBe(33);
  });

  it('PL720: one letter wrong, or another’s code, is no card', () => {
    const cards = [
      clockCardText({ shownAt: epochMsOf(Date.UTC(2026, 8, 19)), body: 1, next: 'N6' }),
      numberCardText({ number: 17, token: TOKEN }),
    ];
    let refused = 0;
    for (const card of cards)
      for (let place = 0; place < card.length; place += 1)
        for (const letter of '0A:Z') {
          if (card[place] === letter) continue;
          const wrong = `${card.slice(0, place)}${letter}${card.slice(place + 1)}`;
          expect([readClockCard(wrong), readNumberCard(wrong)]).toEqual([null, null]);
          refused += 1;
        }
    expect(refused).toBeGreaterThan(200);
    for (const other of ['https://pocket.example/', 'WIFI:T:WPA;S:paddock;;', '', cards[0]!.slice(0, -1)])
      expect([readClockCard(other), readNumberCard(other)]).toEqual([null, null]);
  });

  it('PL721: a frame with a clock card is a divider; among bikes a clock card counts for nothing', () => {
    const code = { text: clockCardText({ shownAt: epochMsOf(Date.UTC(2026, 8, 19)), body: 1 }), at };
    const divider = withCards(measured(), [code]);
    expect([divider.dividerScore, divider.cards?.length]).toEqual([1, 1]);
    expect(withCards(measured(subjectOf('person')), [code]).dividerScore).toBe(1);
    const withBike = measured(subjectOf('motorcycle'));
    expect(withCards(withBike, [code])).toBe(withBike);
    expect(withCards(withBike, [{ text: numberCardText({ number: 3, token: TOKEN }), at }]).cards).toMatchObject([
      { number: 3 },
    ]);
    expect(withCards(measured(), [{ text: 'https://pocket.example/', at }])).not.toHaveProperty('cards');
  });
});

describe('clocks from cards', () => {
  const zone = 'Europe/London';
  const body = 'Invented|One|1' as BodyKey;
  const instant = Date.UTC(2026, 8, 19, 13, 0, 0);
  const wallOf = (epoch: Parameters<typeof wallOfEpoch>[0]) => wallOfEpoch(epoch, zone);
  const card = (ms: number, number = 1) => ({
    kind: 'clock-card' as const,
    shownAt: epochMsOf(Math.floor(ms / 1000) * 1000),
    body: number,
  });

  it('PL722: the true offset lies within the error said, whatever the moment in the second, shutter and fraction', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -4e6, max: 4e6 }),
        fc.nat(86_400_000),
        fc.constantFrom(undefined, 1 / 30, 1),
        fc.boolean(),
        (offsetMs, after, shutterS, hasFraction) => {
          const taken = instant + after;
          const cameraMs = wallOf(epochMsOf(taken)) - offsetMs;
          const fraction = String(((cameraMs % 1000) + 1000) % 1000).padStart(3, '0');
          const whole = wallMsOf(Math.floor(cameraMs / 1000) * 1000);
          const frame: ClockFrame = {
            frameId: frameId('a'),
            body,
            recorded: hasFraction ? wallMsOf(cameraMs) : whole,
            ...(hasFraction && { subSec: fraction }),
            ...(shutterS !== undefined && { shutterS }),
            card: card(taken),
          };
          const [proposal] = proposeClocks([frame], wallOf).proposals;
          expect(Math.abs(proposal!.offsetMs - offsetMs)).toBeLessThanOrEqual(proposal!.errorMs + 1);
          expect(proposal!.errorMs).toBeLessThanOrEqual(
            500 + (hasFraction && fraction !== '000' ? 0 : 500) + 500 * (shutterS ?? 0) + 1,
          );
          expect(checkDecision({ kind: 'body-clock', body, offsetMs: proposal!.offsetMs }).kind).toBe('decision');
        },
      ),
    );
  });

  it('PL722: several cards of one body make it surer; a clock mended between them makes two proposals', () => {
    const shot = (name: string, seconds: number, fastS: number): ClockFrame => ({
      frameId: frameId(name),
      body,
      recorded: wallMsOf(wallOf(epochMsOf(instant)) + Math.floor(seconds + fastS) * 1000),
      card: card(instant + seconds * 1000),
    });
    const twice = proposeClocks([shot('a', 0.9, 61.3), shot('b', 20.1, 61.3)], wallOf).proposals;
    expect(twice).toHaveLength(1);
    expect(twice[0]!.frames).toEqual(['a', 'b']);
    expect(Math.abs(twice[0]!.offsetMs + 61_300)).toBeLessThanOrEqual(twice[0]!.errorMs);
    expect(twice[0]!.errorMs).toBeLessThan(1000);
    const mended = proposeClocks([shot('a', 0, 3600), shot('b', 7200, 0)], wallOf).proposals;
    expect(mended.map(({ fromFrame }) => fromFrame)).toEqual([undefined, 'b']);
    expect(mended[0]!.offsetMs).toBeLessThan(-3_598_000);
  });

  it('PL722: one number shown to two bodies is told and sets both by their own pictures', () => {
    const other = 'Invented|One|2' as BodyKey;
    const recorded = wallMsOf(wallOf(epochMsOf(instant)));
    const frames = [body, other].map(
      (one): ClockFrame => ({ frameId: frameId(one), body: one, recorded, card: card(instant) }),
    );
    const { proposals, notes } = proposeClocks(frames, wallOf);
    expect(proposals.map((one) => one.body)).toEqual([body, other]);
    expect(notes).toEqual([
      expect.stringMatching(/^Expected body 1 on the clock card for one camera but 2 photographed it/),
    ]);
  });
});

describe('riders from number cards', () => {
  const person = 'p-17' as PersonId;
  const known = { tokenOf: () => TOKEN, personOf: (number: number) => (number === 17 ? person : undefined) };
  const frame = (subjects: Subject[], token = TOKEN, number = 17): NumberCardFrame => ({
    frameId: frameId('f'),
    file: 'file' as FileId,
    card: { kind: 'number-card', number, token, at: { x: 0.3, y: 0.6 } },
    subjects,
  });

  it('PL723: the bike the card is held against is the person’s, and the proposal is a line the log takes', () => {
    const bikes = [subjectOf('motorcycle', [0.6, 0.2, 0.3, 0.6]), subjectOf('motorcycle', [0.1, 0.3, 0.4, 0.5])];
    const { proposals, notes } = proposeRiders([frame(bikes)], known);
    expect(notes).toEqual([]);
    expect(proposals).toMatchObject([
      { kind: 'rider-is', person, card: 17, point: { file: 'file', box: [0.1, 0.3, 0.4, 0.5] } },
    ]);
    expect(checkDecision(proposals[0]).kind).toBe('decision');
    expect(proposeRiders([frame(bikes, TOKEN, 18)], known).proposals[0]).not.toHaveProperty('person');
  });

  it('PL723: another meeting’s card and a card without a bike propose nobody and say so', () => {
    const stranger = proposeRiders([frame([subjectOf('motorcycle')], 'Z'.repeat(26))], known);
    expect(stranger).toEqual({ proposals: [], notes: [expect.stringMatching(/card 17 in file file is of another\./)] });
    const alone = proposeRiders([frame([subjectOf('person')])], known);
    expect(alone).toEqual({ proposals: [], notes: [expect.stringMatching(/^Expected a bike beside card 17/)] });
  });

  it('PL724: sheets of eight cards, each with its own code and number, nothing beyond the page', () => {
    const cards = Array.from({ length: 11 }, (_, place) => ({ number: place + 1, token: TOKEN }));
    const pages = layCardSheets({ cards, galleryAddress: 'https://gallery.example/' });
    expect(pages.map((page) => page.map(({ number }) => number))).toEqual([
      [1, 2, 3, 4, 5, 6, 7, 8],
      [9, 10, 11],
    ]);
    expect(new Set(pages.flat().map(({ qr }) => JSON.stringify(qr.runs))).size).toBe(11);
    for (const page of pages) expect(new Set(page.map(({ left, top }) => `${left} ${top}`)).size).toBe(page.length);
    for (const { left, top } of pages.flat()) {
      expect(left + CARD_MM.width).toBeLessThanOrEqual(210 - 12);
      expect(top + CARD_MM.height).toBeLessThanOrEqual(297 - 12);
    }
    expect(readNumberCard(numberCardText(cards[4]!, 'https://gallery.example/'))).toMatchObject({
      number: 5,
      token: TOKEN,
    });
  });
});

describe('roll call', () => {
  const look = (name: string, height = 0.6): Subject => ({
    ...subjectOf('motorcycle', [0.1, 0.1, 0.5, height]),
    descriptor: name,
  });
  const isOneBike = (a: Subject, b: Subject) =>
    a.descriptor === b.descriptor ? 'yes' : a.descriptor[0] === b.descriptor[0] ? 'perhaps' : 'no';
  const called = (...frames: Subject[][]) =>
    callRoll(
      { group: 'N', from: wallMsOf(0), to: wallMsOf(1000) },
      frames.map((subjects, index) => ({ frameId: frameId(`f${index}`), at: wallMsOf(index * 10), subjects })),
      isOneBike,
    );

  it('PL725: a bike in two pictures that follow one another is one, shown where it is largest', () => {
    const { looks, least, most } = called([look('a')], [look('a', 0.8)], [look('b')], [look('c'), look('d', 0.1)]);
    expect([least, most]).toEqual([3, 3]);
    expect(looks.map((one) => one.frameId)).toEqual(['f1', 'f2', 'f3']);
  });

  it('PL725: where nobody could tell, the head count is a range; what was photographed later does not count', () => {
    const { least, most } = called([look('a1')], [look('a2')], [look('b')]);
    expect([least, most]).toEqual([2, 3]);
    expect(callRoll({ group: 'N', from: wallMsOf(5000), to: wallMsOf(6000) }, [], isOneBike)).toMatchObject({
      least: 0,
      most: 0,
    });
  });

  it('PL725: a bike that looks like one further back may be its twin: the head count is a range', () => {
    const { least, most } = called([look('a')], [look('b')], [look('a')], [look('c')]);
    expect([least, most]).toEqual([3, 4]);
  });

  it('PL725: at least and at most hold the truth when each bike is photographed one to three times in a row', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 3 }), { maxLength: 20 }), (times) => {
        const frames = times.flatMap((count, bike) =>
          Array.from({ length: count }, () => [look(`${String.fromCharCode(97 + (bike % 5))}${bike}`)]),
        );
        const { least, most } = called(...frames);
        expect(least <= times.length && times.length <= most).toBe(true);
      }),
    );
  });
});
