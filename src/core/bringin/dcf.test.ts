import { describe, expect, it } from 'vitest';
import { isDcfPath, kindOfCard, parseDcfDirectory, parseDcfFile } from './dcf.js';

// JEITA CP-3461 / CIPA DC-009, as quoted by camera manuals: three digits 100–999 and five of 0-9 A-Z _; four of those
// and 0001–9999. Camera manuals give 100_PANA, P1000001.JPG, _DSC0412.NEF and IMG_0001.CR2 as examples.
describe('DCF names', () => {
  it('BI1: directories are 100 to 999 and five characters, in any case', () => {
    expect(parseDcfDirectory('100_PANA')).toEqual({ number: 100, free: '_PANA' });
    expect(parseDcfDirectory('999abcde')).toEqual({ number: 999, free: 'abcde' });
    for (const name of ['099ABCDE', '100ABCDEF', '100ABCD', '100ABC-E', '100ABCDÉ'])
      expect(parseDcfDirectory(name)).toBeNull();
  });

  it('BI1: files are four characters and 0001 to 9999', () => {
    expect(parseDcfFile('P1000001.JPG')).toEqual({ free: 'P100', number: 1, extension: 'JPG' });
    expect(parseDcfFile('_DSC0412.nef')).toEqual({ free: '_DSC', number: 412, extension: 'NEF' });
    expect(parseDcfFile('IMG_9999.CR2')?.number).toBe(9999);
    for (const name of ['IMG_0000.JPG', 'IMG_001.JPG', 'IMG_00001.JPG', 'IMG-0001.JPG', 'IMG_0001'])
      expect(parseDcfFile(name)).toBeNull();
  });

  it('BI1: only a file straight below a directory of DCIM has a DCF path', () => {
    expect(isDcfPath('DCIM/100ABCDE/ABCD0001.JPG')).toBe(true);
    expect(isDcfPath('dcim/100abcde/abcd0001.jpg')).toBe(true);
    for (const path of ['DCIM/ABCD0001.JPG', 'DCIM/100ABCDE/sub/ABCD0001.JPG', '100ABCDE/ABCD0001.JPG']) {
      expect(isDcfPath(path)).toBe(false);
    }
  });

  it('BI2: a card is named for what it holds', () => {
    expect(kindOfCard([])).toBe('empty');
    expect(kindOfCard(['holiday/one.jpg'])).toBe('no-dcim');
    expect(kindOfCard(['PRIVATE/M4ROOT/CLIP/C0001.MP4', 'PRIVATE/M4ROOT/MEDIAPRO.XML'])).toBe('clips-only');
    expect(kindOfCard(['DCIM/100ABCDE/ABCD0001.JPG', 'DCIM/100ABCDE/ABCD0002.MP4'])).toBe('stills');
  });
});
