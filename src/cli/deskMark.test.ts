import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { GALLERY_ABOUT } from '../../test/builders/galleryDay.js';
import { ownMarkOf, takeKeptMark } from '../host/finish/marks/index.js';
import { readAbout } from '../host/meeting/about.js';
import { createMeeting } from '../host/meeting/index.js';
import { deskMark } from './deskMark.js';

let root: string;
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-desk-mark-'));
});
afterEach(() => rm(root, { recursive: true }));

const { id: _, format: __, ...ABOUT } = GALLERY_ABOUT;
const RINGS = Buffer.from(
  '<svg xmlns="http://www.w3.org/2000/svg" width="600" height="200"><circle cx="100" cy="100" r="90" fill="none" stroke="#fff" stroke-width="20"/><circle cx="400" cy="100" r="90" fill="none" stroke="#fff" stroke-width="20"/></svg>',
);

/** A child is started from TypeScript here, which takes a busy machine a while. */
describe('the mark at the desk', { timeout: 120_000 }, () => {
  it('FI15: what is laid from the desk is the meeting’s and the next one’s, and words come back', async () => {
    const [folder, next] = [join(root, 'meeting'), join(root, 'next')];
    await createMeeting(folder, ABOUT);
    const mark = deskMark({ folder, stateFolder: join(root, 'state', 'meetings', 'one') });
    expect(await mark.picture()).toBeNull();
    await expect(mark.keep('words.png', Buffer.from('no picture'))).rejects.toThrow(
      /in words\.png, but .* Nothing was/,
    );
    expect(await mark.picture()).toBeNull();
    await mark.keep('rings.svg', RINGS);
    const png = await mark.picture();
    expect(await sharp(Buffer.from(png ?? [])).metadata()).toMatchObject({ format: 'png', channels: 4 });
    await createMeeting(next, ABOUT);
    await takeKeptMark(next, join(root, 'state'));
    const [here, there] = [await readAbout(folder), await readAbout(next)];
    expect(there.markPicture).toBe(here.markPicture);
    await mark.letGo();
    expect(await mark.picture()).toBeNull();
    expect(await ownMarkOf(next, there)).not.toBeNull();
  });
});
