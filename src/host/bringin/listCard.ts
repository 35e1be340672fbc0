/** Lists a card, folder or volume: every file, and every entry that cannot be taken with a sentence why. Reads only. */
import type { Dirent } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { isPartName } from '../../core/bringin/names.js';
import type { CardFile, CardListing, PassedOver } from '../../core/bringin/types.js';
import { epochMsOf } from '../../core/units.js';
import { BringInError, meaningOf } from './errors.js';

/** What computers leave on every disk they see. Kept out by name, said so, and no reason to keep a card. */
const housekeeping = new Set([
  'System Volume Information',
  '$RECYCLE.BIN',
  '.Trashes',
  '.Spotlight-V100',
  '.fseventsd',
  '.TemporaryItems',
  '.DocumentRevisions-V100',
  'lost+found',
]);

interface Found {
  readonly files: CardFile[];
  readonly passedOver: PassedOver[];
}

/** Throws BringInError when the card itself cannot be listed; anything below it is passed over with a sentence. */
export async function listCard(card: string): Promise<CardListing> {
  const found: Found = { files: [], passedOver: [] };
  const entries = await readdir(card, { withFileTypes: true }).catch((cause: unknown) => {
    throw new BringInError(
      `Expected a card or folder at ${card} but could not list it: ${meaningOf(cause)}. Check that it is plugged in and readable.`,
      card,
      cause,
    );
  });
  await takeEntries(card, '', entries, found);
  found.files.sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  return found;
}

async function takeEntries(card: string, folder: string, entries: readonly Dirent[], found: Found): Promise<void> {
  for (const entry of entries) {
    const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
    if (isHousekeeping(entry.name, folder)) {
      found.passedOver.push({ path, why: 'It belongs to the computer, not to the card.', isHousekeeping: true });
    } else if (folder === '' && entry.name === 'ascmhl') continue;
    else if (entry.isDirectory()) await takeFolder(card, path, found);
    else if (entry.isFile()) await takeFile(card, path, found);
    else found.passedOver.push({ path, why: reasonAgainst(entry) });
  }
}

const isHousekeeping = (name: string, folder: string): boolean =>
  name === '.DS_Store' || isPartName(name) || (folder === '' && (housekeeping.has(name) || /^\.Trash-\d+$/.test(name)));

async function takeFolder(card: string, path: string, found: Found): Promise<void> {
  try {
    await takeEntries(card, path, await readdir(join(card, path), { withFileTypes: true }), found);
  } catch (error) {
    found.passedOver.push({
      path,
      why: `This folder could not be listed: ${meaningOf(error)}. Its files are not known.`,
    });
  }
}

async function takeFile(card: string, path: string, found: Found): Promise<void> {
  try {
    const { size, mtimeMs } = await lstat(join(card, path));
    found.files.push({ path, bytes: size, modified: epochMsOf(Math.floor(mtimeMs)) });
  } catch (error) {
    const broken = path.includes('\ufffd') ? 'Its name is not valid text, so it cannot be opened' : meaningOf(error);
    found.passedOver.push({ path, why: `This file could not be looked at: ${broken}. Copy it by hand.` });
  }
}

function reasonAgainst(entry: Dirent): string {
  if (entry.isSymbolicLink()) return 'It is a link; links are not followed, for they may lead out of the card.';
  return 'It is neither a file nor a folder.';
}
