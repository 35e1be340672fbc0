import { describe, expect, it } from 'vitest';
import { recognise } from './mediaKind.js';

const bytes = (text: string): Buffer => Buffer.from(text, 'latin1');

describe('what a file is', () => {
  it.each([
    ['DSC_0001.JPG', '\xff\xd8\xff\xe1', 'jpeg'],
    ['DSC_0001', '\xff\xd8\xff\xdb', 'jpeg'],
    ['C0001.MP4', '\0\0\0\x1cftypXAVC', 'clip'],
    ['C0001.MOV', '\0\0\0\x14ftypqt  ', 'clip'],
    ['IMG_0001.HIF', '\0\0\0\x18ftypheix', 'other'],
    ['IMG_0001.CR3', '\0\0\0\x18ftypcrx ', 'raw'],
    ['DSC_0001.NEF', 'MM\0*\0\0\0\x08', 'raw'],
    ['DSC_0001.DNG', 'II*\0\x08\0\0\0', 'raw'],
    ['P0001.RW2', 'IIU\0\x18\0\0\0', 'raw'],
    ['P0001.ORF', 'IIRO\x08\0\0\0', 'raw'],
    ['DSCF0001.RAF', 'FUJIFILMCCD-RAW 0201', 'raw'],
    ['scan.tif', 'II*\0\x08\0\0\0', 'other'],
    ['00000.MTS', '\0\0\0\0G', 'clip'],
    ['DSC_0001.xmp', '<x:xmpmeta', 'side-file'],
    ['GX010001.THM', '\xff\xd8\xff\xe1', 'side-file'],
    ['GX010001.LRV', '\0\0\0\x14ftypmp41', 'side-file'],
    ['DSC_0001.WAV', 'RIFF', 'side-file'],
    ['notes', 'hello', 'other'],
  ])('%s beginning %j is %s', (name, head, media) => {
    expect(recognise(`DCIM/100HX7_A/${name}`, bytes(head))).toMatchObject({ media, isBroken: false });
  });

  it('MS7: a picture’s name over other bytes is a broken picture', () => {
    expect(recognise('DSC_0001.JPG', bytes('\0\0\0\0'))).toEqual({ media: 'jpeg', layout: 'none', isBroken: true });
    expect(recognise('DSC_0001.NEF', Buffer.alloc(0))).toMatchObject({ media: 'raw', isBroken: true });
  });
});
