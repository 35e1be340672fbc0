/** A set as one zip: names that people and every system can read, the terms of use beside the pictures. */
import { crc32 } from 'node:zlib';
import type { HandedFile, LicenceKind, Offer } from '../../core/handover/orders/index.js';
import type { FinalAnswer } from './types.js';
import { type ZipEntry, type ZipLayout, zipLayout } from './zip/layout.js';
import { safeName } from './zip/names.js';

/** What a buyer may do with a picture, in the meeting's words; null where nothing was written down. */
export type Terms = (licence: LicenceKind) => string | null;

export interface SetZip extends ZipLayout {
  readonly name: string;
  readonly entries: readonly ZipEntry[];
}

const LICENCES: readonly LicenceKind[] = ['personal', 'press', 'sponsor'];

/** Of what is ready. The same set gives the same bytes, for whomever and whenever. */
export function zipOf(
  files: readonly (HandedFile & { readonly answer: FinalAnswer })[],
  offer: Pick<Offer, 'title' | 'firstDay'>,
  termsOf: Terms,
): SetZip {
  const folder = safeName(offer.title, 'pictures');
  const pictures = files.flatMap(({ answer, ...file }): readonly ZipEntry[] =>
    answer.kind === 'ready'
      ? [
          {
            name: `${folder}/${nameOf(file, offer)}`,
            bytes: answer.bytes,
            crc32: answer.crc32,
            from: { path: answer.path },
          },
        ]
      : [],
  );
  const terms = termsEntry(files, folder, termsOf);
  const entries = terms === null ? pictures : [...pictures, terms];
  return { ...zipLayout(entries), entries, name: `${folder}.zip` };
}

function nameOf({ number, day, licence }: HandedFile, { firstDay }: Pick<Offer, 'firstDay'>): string {
  const parts = [day ?? firstDay, String(number).padStart(3, '0'), ...(licence === 'personal' ? [] : [licence])];
  return `${parts.join('-')}.jpg`;
}

function termsEntry(files: readonly HandedFile[], folder: string, termsOf: Terms): ZipEntry | null {
  const texts = LICENCES.filter((licence) => files.some((file) => file.licence === licence)).flatMap((licence) => {
    const text = termsOf(licence);
    return text === null ? [] : [`${licence}\r\n${text.trim()}\r\n`];
  });
  if (texts.length === 0) return null;
  const content = Buffer.from(texts.join('\r\n'));
  return { name: `${folder}/terms.txt`, bytes: content.length, crc32: crc32(content), from: { content } };
}
