import { describe, expect, it } from 'vitest';
import { optionalText, parseAddress } from './address.js';

const frameIn = (address: string) => optionalText((parseAddress(address) as { frame?: unknown }).frame);

describe('a typed address', () => {
  it.each([
    '12345678901234567890123456789012',
    '1234567890123456789012345678e123',
    '00000000000000000000000000000001',
    'f2345678901234567890123456789012',
    '9007199254740993',
    '7',
  ])('keeps every digit of the id %s', (id) => {
    expect(frameIn(`?frame=${id}`)).toBe(id);
    expect(frameIn(`?frame=%22${id}%22`)).toBe(id);
  });

  it('still holds numbers and nothing', () => {
    expect(parseAddress('?bike=2')).toEqual({ bike: 2 });
    expect(frameIn('?frame=')).toBeUndefined();
    expect(frameIn('')).toBeUndefined();
  });
});
