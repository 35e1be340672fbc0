import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segment } from '../../../test/fixtures/metadata/cameraFiles.js';
import { JpegScan, type ScanEnd } from './jpegScan.js';

const SOI = Uint8Array.of(0xff, 0xd8);
const EOI = Uint8Array.of(0xff, 0xd9);
const sos = segment(0xda, Uint8Array.of(1, 1, 0, 0, 63, 0));
const bytes = (...parts: Uint8Array[]): Buffer => Buffer.concat(parts);

/** The coded picture as found when the file comes in pieces of the given lengths, over and over. */
const found = (file: Uint8Array, lengths: readonly number[] = [file.length]): { picture: Buffer; end: ScanEnd } => {
  const scan = new JpegScan();
  const parts: Uint8Array[] = [];
  for (let at = 0, turn = 0; at < file.length && !scan.isDone; turn += 1) {
    const chunk = file.subarray(at, at + (lengths[turn % lengths.length] as number));
    const piece = scan.feed(chunk);
    if (piece.opens) parts.push(Uint8Array.of(0xff, 0xda));
    parts.push(chunk.subarray(piece.from, piece.to));
    at += chunk.length;
  }
  return { picture: Buffer.concat(parts), end: scan.end };
};

const coded = Uint8Array.of(1, 2, 0xff, 0x00, 3, 0xff, 0xd0, 4, 0xff, 0xff, 0xd1, 5);
const plain = bytes(SOI, segment(0xe1, Uint8Array.of(0xff, 0xd9, 0xff, 0xda)), segment(0xdb, EOI), sos, coded, EOI);

describe('the coded picture of a JPEG', () => {
  it('MS1: begins with its first SOS marker and ends with its own EOI, whatever header segments hold', () => {
    expect(found(plain)).toEqual({ picture: bytes(sos, coded, EOI), end: 'end-marker' });
  });

  it('MS1: holds every scan of a progressive picture; tables between scans may hold bytes like an EOI', () => {
    const scans = bytes(sos, coded, segment(0xc4, EOI), sos, coded, EOI);
    expect(found(bytes(SOI, scans, SOI, sos, coded, EOI))).toEqual({ picture: scans, end: 'end-marker' });
  });

  it('MS1: is the same however the file is cut into pieces', () => {
    const file = bytes(plain, plain);
    const whole = found(file);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 12 }), (lengths) => {
        expect(found(file, lengths)).toEqual(whole);
      }),
    );
  });

  it('MS3: without an EOI it runs to the end of the file', () => {
    expect(found(bytes(SOI, sos, coded))).toEqual({ picture: bytes(sos, coded), end: 'file-ends' });
  });

  it('MS3: without an EOI it stops at the start of the next picture', () => {
    expect(found(bytes(SOI, sos, coded, plain))).toEqual({ picture: bytes(sos, coded, SOI), end: 'next-picture' });
  });

  it('MS3: there is none where the file stops in the header, or never was a JPEG', () => {
    expect(found(bytes(SOI, segment(0xe1, coded))).end).toBe('no-scan');
    expect(found(bytes(SOI, segment(0xe1, coded), EOI, plain)).end).toBe('no-scan');
    expect(found(Buffer.alloc(4096)).end).toBe('no-scan');
  });

  it('MS3: any bytes at all give an answer, and the same one in one piece or in many', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.integer({ min: 1, max: 7 }), (junk, length) => {
        const file = bytes(SOI, sos, junk);
        expect(found(file, [length])).toEqual(found(file));
      }),
    );
  });
});
