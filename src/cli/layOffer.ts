/** What is sold of a gallery, laid beside it for the order service. */
import { existsSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { takedownsOf } from '../core/finish/index.js';
import { offerOf } from '../core/handover/offerOf.js';
import type { Offer } from '../core/handover/orders/index.js';
import { type GalleryReport, meetingSecret, publicIdsOf } from '../host/gallery/index.js';
import { readAbout } from '../host/meeting/about.js';
import { priceListSchema } from '../shop/service/schemas.js';
import { CliError } from './cliError.js';
import type { WholeDay } from './openWholeDay.js';
import { type AskWish, clientOf, dataFolderOf } from './ordersCommand.js';

export interface LaidOffer {
  readonly offer: Offer;
  readonly file: string;
  /** Where it lies, and for what. */
  readonly sentence: string;
}

/** Prices lie in `prices.json`; without them there is nothing to order. */
export async function layOffer(
  { day, meeting }: Pick<WholeDay, 'day' | 'meeting'>,
  report: GalleryReport | null,
): Promise<LaidOffer | null> {
  if (report === null || report.wasStopped) return null;
  const path = join(meeting.folder, 'prices.json');
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return null;
  const { seller, prices } = priceListOf(text, path);
  const about = await readAbout(meeting.folder);
  const { arrangement, log } = day.state();
  const publicIdOf = publicIdsOf(await meetingSecret(meeting.folder));
  const { frames, riderIds } = takedownsOf(arrangement, log);
  const offer = offerOf({
    gallery: report.gallery,
    arrangement,
    log,
    about,
    meeting: publicIdOf('meeting', about.id),
    address: about.galleryAddress ?? null,
    ...(about.galleryLanguage === undefined ? {} : { language: about.galleryLanguage }),
    seller: { contact: about.contact ?? null, ...seller },
    prices,
    withdrawn: [
      ...[...frames].map((frame) => publicIdOf('frame', frame)),
      ...[...riderIds].map((rider) => publicIdOf('rider', rider)),
    ],
  });
  const file = `${report.folder}.offer.json`;
  await writeFile(file, `${JSON.stringify(offer)}\n`);
  return { offer, file, sentence: `${file}: for tyrewall orders --offer.` };
}

function priceListOf(text: string, path: string) {
  let json: unknown = null;
  try {
    json = JSON.parse(text);
  } catch {
    // Said below, as anything else that is no price list.
  }
  const read = priceListSchema.safeParse(json);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  throw new CliError(
    `Expected a seller and prices in ${path} but ${['it', ...(issue?.path ?? [])].join('.')}: ${issue?.message}. The gallery is made; mend the file and make it again for its offer.`,
  );
}

/** A service that sells this meeting already follows at once: what is held or hidden must not be sold on. */
export async function tellService({ offer, file, sentence }: LaidOffer, wish: AskWish = {}): Promise<string> {
  const isNamed = wish.data !== undefined || wish.from !== undefined;
  if (!isNamed && !existsSync(join(dataFolderOf(wish), 'admin.key'))) return sentence;
  try {
    const client = await clientOf(wish);
    if (!(await client.offers()).some(({ meeting }) => meeting === offer.meeting)) return sentence;
    await client.putOffer(offer);
    return `${file}: the order service sells by it from now on.`;
  } catch (problem) {
    return `${file}: the order service was not told. ${(problem as Error).message} Say tyrewall orders offer with that file once it runs.`;
  }
}
