/** What was tapped as bytes and back. */
import type { SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import { ByteReader, ByteWriter, UnreadableBytes } from './bytes.js';
import type { PocketTaps, Tap } from './types.js';

const SECOND_MS = 1000;
const CHECK_DIGITS = 8;
const PHONE_DIGITS = 8;
const KINDS = ['out', 'late', 'red-flag', 'resumed', 'got'] as const satisfies readonly Tap['kind'][];

export function bytesOfTaps({ dayCheck, phone, eastMin, taps }: PocketTaps): Uint8Array {
  const to = new ByteWriter();
  to.hex(dayCheck, CHECK_DIGITS);
  to.hex(phone, PHONE_DIGITS);
  to.signed(eastMin);
  let at = 0;
  to.list(taps, (tap) => {
    const second = Math.floor(tap.at / SECOND_MS);
    to.whole(KINDS.indexOf(tap.kind) * 2 + (tap.isUndone ? 1 : 0));
    to.whole(tap.seq);
    to.signed(second - at);
    writeRest(to, tap);
    at = second;
  });
  return to.done();
}

/** Throws `UnreadableBytes` where the bytes are no such list. */
export function tapsOfBytes(bytes: Uint8Array): PocketTaps {
  const from = new ByteReader(bytes);
  const dayCheck = from.hex(CHECK_DIGITS);
  const phone = from.hex(PHONE_DIGITS);
  const eastMin = from.signed();
  let second = 0;
  const taps = from.list((): Tap => {
    const packed = from.whole();
    const seq = from.whole();
    second += from.signed();
    const shared = { seq, at: wallMsOf(second * SECOND_MS), isUndone: packed % 2 === 1 };
    return { ...shared, ...readRest(from, KINDS[packed >> 1], second) };
  });
  from.end();
  return { dayCheck, phone, eastMin, taps };
}

function writeRest(to: ByteWriter, tap: Tap): void {
  switch (tap.kind) {
    case 'out':
      to.text(tap.slot);
      to.signed(tap.afterStartS);
      return;
    case 'late':
      to.text(tap.slot);
      to.signed(tap.byMin);
      to.signed(Math.floor(tap.at / SECOND_MS) - Math.floor(tap.plannedAt / SECOND_MS));
      return;
    case 'red-flag':
      return;
    case 'resumed':
      to.signed(Math.floor(tap.at / SECOND_MS) - Math.floor(tap.stoppedAt / SECOND_MS));
      return;
    case 'got':
      // Empty stands for absent: no spot, rider or number is called by nothing.
      for (const word of [tap.spot, tap.riderTag, tap.number]) to.text(word ?? '');
  }
}

type Rest<Kind extends Tap['kind']> = Kind extends Tap['kind']
  ? Omit<Extract<Tap, { kind: Kind }>, 'seq' | 'at' | 'isUndone'>
  : never;

function readRest(from: ByteReader, kind: Tap['kind'] | undefined, second: number): Rest<Tap['kind']> {
  switch (kind) {
    case 'out':
      return { kind, slot: from.text(), afterStartS: from.signed() };
    case 'late':
      return {
        kind,
        slot: from.text(),
        byMin: from.signed(),
        plannedAt: wallMsOf((second - from.signed()) * SECOND_MS),
      };
    case 'red-flag':
      return { kind };
    case 'resumed':
      return { kind, stoppedAt: wallMsOf((second - from.signed()) * SECOND_MS) };
    case 'got': {
      const [spot, riderTag, number] = [from.text(), from.text(), from.text()];
      return {
        kind,
        ...(spot !== '' && { spot: spot as SpotId }),
        ...(riderTag !== '' && { riderTag }),
        ...(number !== '' && { number }),
      };
    }
    case undefined:
      throw new UnreadableBytes('it holds a tap of a kind that is not known here');
  }
}
