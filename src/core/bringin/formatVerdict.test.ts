import { describe, expect, it } from 'vitest';
import type { FileId } from '../ids.js';
import { epochMsOf } from '../units.js';
import { type Copy, type Device, formatVerdict } from './formatVerdict.js';
import type { CardListing } from './types.js';

const noon = epochMsOf(Date.UTC(2026, 4, 30, 12));
const files = [
  { path: 'DCIM/100TESTA/TEST0001.JPG', bytes: 10, modified: noon },
  { path: 'DCIM/100TESTA/TEST0002.JPG', bytes: 20, modified: noon },
];
const listing: CardListing = { files, passedOver: [] };
const held = files.map((file) => ({ ...file, fileId: 'f'.repeat(32) as FileId }));
const on = (disk: string): Device => ({ kind: 'known', disks: [disk] });
const copy = (disk: string, device: Device = on(disk), has = held): Copy => ({ disk, device, files: has });

describe('whether a card may be formatted', () => {
  it('BI20: two verified copies on two physical devices, and nothing else on the card', () => {
    expect(formatVerdict(listing, [copy('A'), copy('B')])).toEqual({
      kind: 'may-be-formatted',
      sentence: 'This card may be formatted: all 2 files on it stand verified on A and B.',
    });
  });

  const missing: readonly [string, CardListing, readonly Copy[], RegExp][] = [
    ['one copy', listing, [copy('A')], /one copy only, on A/],
    ['no copy', listing, [], /No copy was made/],
    ['two folders of one disk', listing, [copy('A', on('sda')), copy('B', on('sda'))], /on one physical disk/],
    [
      'two volumes that share a disk',
      listing,
      [copy('A', { kind: 'known', disks: ['sda', 'sdb'] }), copy('B', on('sdb'))],
      /one physical disk/,
    ],
    [
      'an unknown device',
      listing,
      [copy('A'), copy('B', { kind: 'unknown', why: 'it is a network disk' })],
      /B is a disk of its own could not be found out \(it is a network disk\)/,
    ],
    [
      'a file that is not on both',
      listing,
      [copy('A'), copy('B', on('B'), held.slice(1))],
      /B lacks 1 file \(DCIM\/100TESTA\/TEST0001.JPG\)/,
    ],
    [
      'a file that came later',
      { ...listing, files: [...files, { path: 'new.JPG', bytes: 1, modified: noon }] },
      [copy('A'), copy('B')],
      /A lacks 1 file \(new.JPG\)/,
    ],
    [
      'a file that has changed',
      { ...listing, files: [{ ...files[0]!, bytes: 11 }, files[1]!] },
      [copy('A'), copy('B')],
      /A lacks 1 file/,
    ],
    [
      'something passed over',
      { files, passedOver: [{ path: 'link', why: 'It is a link.' }] },
      [copy('A'), copy('B')],
      /Not brought in from the card: link. It is a link./,
    ],
    [
      'a copy not read back',
      listing,
      [
        copy('A'),
        copy(
          'B',
          on('B'),
          held.map((file) => ({ ...file, notReadBack: 'this disk cannot' })),
        ),
      ],
      /2 files .* on B could not be read back/,
    ],
    ['an empty listing', { files: [], passedOver: [] }, [copy('A'), copy('B')], /lists no file at all/],
  ];
  it.each(missing)('BI21: %s keeps the card, and says what is missing', (_, card, copies, sentence) => {
    const verdict = formatVerdict(card, copies);
    expect(verdict).toMatchObject({ kind: 'keep', missing: expect.arrayContaining([expect.stringMatching(sentence)]) });
    expect(verdict.sentence).not.toContain('may be formatted');
  });

  it('BI21: of an empty listing only that is said, not what else two copies would need', () => {
    expect(formatVerdict({ files: [], passedOver: [] }, [copy('A')])).toMatchObject({
      missing: ['The card lists no file at all, so nothing was proven.'],
    });
  });

  it('BI22: what computers leave on every disk does not speak against formatting', () => {
    const passedOver = [{ path: '.Trashes', why: 'It belongs to the computer.', isHousekeeping: true }];
    expect(formatVerdict({ files, passedOver }, [copy('A'), copy('B')]).kind).toBe('may-be-formatted');
  });
});
