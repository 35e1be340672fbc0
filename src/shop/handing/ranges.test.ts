/** Rule HD11 of docs/rules/handing.md, against the examples of RFC 9110, section 14.1.2 (a representation of 10,000 bytes). */
import { describe, expect, it } from 'vitest';
import { askedOf } from './ranges.js';

const TAG = '"abc"';
const asked = (headers: Record<string, string>, bytes = 10_000) => askedOf((name) => headers[name], TAG, bytes);
const part = (first: number, last: number) => ({ kind: 'part', first, last });

describe('what is asked for', () => {
  it.each([
    ['the first 500 bytes', 'bytes=0-499', part(0, 499)],
    ['the second 500 bytes', 'bytes=500-999', part(500, 999)],
    ['the final 500 bytes', 'bytes=-500', part(9500, 9999)],
    ['the final 500 bytes, open', 'bytes=9500-', part(9500, 9999)],
    ['first and last byte: several ranges get the whole, which a server may', 'bytes=0-0,-1', { kind: 'whole' }],
    ['more than there is', 'bytes=9990-20000', part(9990, 9999)],
    ['more of the end than there is', 'bytes=-20000', part(0, 9999)],
    ['nothing of the end', 'bytes=-0', { kind: 'not-there' }],
    ['behind the end', 'bytes=10000-', { kind: 'not-there' }],
    ['a last byte before the first', 'bytes=5-4', { kind: 'whole' }],
    ['another unit', 'seconds=1-2', { kind: 'whole' }],
    ['no number', 'bytes=-', { kind: 'whole' }],
    ['far too large a number', 'bytes=99999999999999999999-', { kind: 'whole' }],
    ['in capitals', 'BYTES=1-1', part(1, 1)],
  ])('HD11: %s', (_, range, expected) => {
    expect(asked({ range })).toEqual(expected);
  });

  it('HD11: a part only of the very same file (13.1.5)', () => {
    const range = 'bytes=5-';
    expect(asked({ range, 'if-range': TAG })).toEqual(part(5, 9999));
    for (const other of ['"abd"', `W/${TAG}`, 'Sat, 19 Sep 2026 10:00:00 GMT', 'abc'])
      expect(asked({ range, 'if-range': other }), other).toEqual({ kind: 'whole' });
  });

  it('HD11: conditions by tag (13.1.1, 13.1.2)', () => {
    expect(asked({ 'if-none-match': TAG })).toEqual({ kind: 'not-modified' });
    expect(asked({ 'if-none-match': `"x", W/${TAG}` })).toEqual({ kind: 'not-modified' });
    expect(asked({ 'if-none-match': '*' })).toEqual({ kind: 'not-modified' });
    expect(asked({ 'if-none-match': '"x"' })).toEqual({ kind: 'whole' });
    expect(asked({ 'if-match': '"x"' })).toEqual({ kind: 'other-by-now' });
    expect(asked({ 'if-match': `W/${TAG}` })).toEqual({ kind: 'other-by-now' });
    expect(asked({ 'if-match': `"x", ${TAG}`, range: 'bytes=1-1' })).toEqual(part(1, 1));
  });
});
