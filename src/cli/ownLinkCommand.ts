/** `tyrewall own-link <meeting> [rider…]`: private links to riders' own sets, and slips that carry them. */
import { randomBytes } from 'node:crypto';
import type { Rider } from '../core/arrange/types.js';
import { ownLinksOf, ownSetId } from '../core/handover/find/index.js';
import type { Decision } from '../core/log/types.js';
import { ownAddress } from '../gallery/index.js';
import { riderSlipsPdf } from '../host/gallery/cards/findCards.js';
import { meetingSecret, publicIdsOf } from '../host/gallery/index.js';
import { newGestureId } from '../host/logbook/index.js';
import { readAbout } from '../host/meeting/about.js';
import { CliError } from './cliError.js';
import { cardWords, writePaper } from './galleryCommand.js';
import { openWholeDay } from './openWholeDay.js';
import { counted, onOneLine } from './words.js';

export interface OwnLinkWish {
  /** In place of the link before, which leads nowhere from then on. */
  readonly anew?: boolean;
  readonly end?: boolean;
  /** Slips to print. */
  readonly pdf?: string;
  readonly stateRoot?: string;
}

type Say = (line: string) => void;

export async function ownLinkCommand(
  folder: string,
  codes: readonly string[],
  wish: OwnLinkWish,
  say: Say = console.log,
): Promise<void> {
  const whole = await openWholeDay(folder, wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot });
  try {
    const { arrangement, keepers, log } = await whole.day.settled();
    const riders = codes.map((code) => riderOf(arrangement.riders, code));
    const links = ownLinksOf(log);
    const decisions = riders.flatMap(({ id }) => decisionFor(id, links.get(id), wish));
    if (decisions.length > 0) await whole.day.decide(newGestureId(), decisions);
    if (wish.end) return say(`${counted(riders.length, 'link')} ended. Make the gallery again and put it up.`);
    const about = await readAbout(folder);
    const publicIdOf = publicIdsOf(await meetingSecret(folder));
    const now = ownLinksOf(whole.day.state().log);
    const slips = riders.map(({ id, key, livery, code }) => ({
      code,
      livery,
      pictures: keepers.byRider.get(key)?.length ?? 0,
      address: ownAddress(about.galleryAddress ?? '', ownSetId(id, now.get(id)!, publicIdOf)),
    }));
    for (const { code, address } of slips) say(`${onOneLine(code)}: ${address}`);
    if (decisions.length > 0) say('They hold once the gallery is made again and put up.');
    if (wish.pdf === undefined) return;
    if (about.galleryAddress === undefined)
      throw new CliError(
        'Expected the address of the gallery for slips, but none was said yet. Say it with tyrewall gallery --site.',
      );
    const paper = await riderSlipsPdf(slips, cardWords(about), new Date());
    await writePaper(wish.pdf, paper.pdf);
    say(`${wish.pdf}: ${counted(slips.length, 'slip')} on ${counted(paper.pages, 'page')} A4, to be cut.`);
  } finally {
    await whole.close();
  }
}

type Minted = Rider & { readonly id: NonNullable<Rider['id']> };

function riderOf(riders: readonly Rider[], code: string): Minted {
  const rider = riders.find((one) => one.code.toLowerCase() === code.toLowerCase());
  if (rider === undefined)
    throw new CliError(
      `Expected the code of a rider, for instance N-ka, but got ${onOneLine(code)}. See tyrewall show for all of them.`,
    );
  if (rider.id === null)
    throw new CliError(
      `Expected a rider of the gallery, but ${rider.code} has stood in none yet. Make the gallery first.`,
    );
  return rider as Minted;
}

/** 128 random bits, so that no address can be worked out from another, whoever knows the rider. */
function decisionFor(rider: Minted['id'], standing: string | undefined, wish: OwnLinkWish): readonly Decision[] {
  if (wish.end) return standing === undefined ? [] : [{ kind: 'own-link', rider, salt: null }];
  if (standing !== undefined && !wish.anew) return [];
  return [{ kind: 'own-link', rider, salt: randomBytes(16).toString('hex') }];
}
