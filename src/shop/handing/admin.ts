/** The photographer's side: what waits and for what, signs, links to pass on or take back, finals to be made or brought. JSON only. */
import type { Hono } from 'hono';
import { z } from 'zod';
import { handedFiles, type OrderId, releaseOf } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import { jsonOf } from '../service/adminApp.js';
import { referenceOf } from '../service/reference.js';
import type { ShopPorts } from '../service/types.js';
import { ShopError } from '../shopError.js';
import { answersOf } from './answers.js';
import { findOrder, goodLink, mayBeHanded, type OrderFound, queueLetter, revokeLink, signSet } from './deeds.js';
import { type Bringing, MOST_FINAL_BYTES } from './finals/bringing.js';
import type { FinalStore } from './finals/finalStore.js';
import type { Finals } from './finals/finals.js';
import type { LinkSigner } from './links.js';
import { isOfLink } from './mail/post.js';
import type { FinalWish, Link, MailSettings } from './types.js';

export interface HandingAdmin {
  readonly shop: Omit<ShopPorts, 'parts'>;
  readonly store: FinalStore;
  readonly finals: Finals;
  readonly bringing: Bringing;
  readonly signer: LinkSigner;
  readonly mail: MailSettings | null;
  readonly addressOf: (link: Link) => string;
  readonly told: () => void;
}

/** A paid order that is not handed over yet, or whose letter came to nothing. */
export interface WaitingOrder {
  readonly order: OrderId;
  readonly reference: string;
  readonly livery: readonly string[];
  /** Null where no signs are wanted. */
  readonly signs: { readonly pictures: readonly PublicId[]; readonly signedBy: readonly string[] } | null;
  readonly notMade: readonly { readonly picture: PublicId; readonly sentence: string }[];
  /** Finals that are still to come. */
  readonly toCome: number;
  readonly letter: { readonly outcome: string; readonly tries: number; readonly said: string } | null;
}

const MOST_SENTENCE = 500;

const id = z.string().regex(/^[0-9a-f]{32}$/, '32 hex digits');
const signSchema = z.object({
  by: z.string().trim().min(1).max(100),
  pictures: z.array(id).min(1).max(20_000),
  isSecondLook: z.boolean().default(false),
});
const linkSchema = z.object({ picture: id.nullable().default(null) });
const removeSchema = z.object({ pictures: z.array(id).max(200_000) });
const wishSchema = z.object({
  picture: id,
  licence: z.enum(['personal', 'press', 'sponsor']),
  edge: z.union([z.literal('full').transform(() => null), z.coerce.number().int().min(64).max(100_000)]),
});
const pieceSchema = z.object({
  from: z.coerce.number().int().min(0).default(0),
  of: z.coerce.number().int().min(4).max(MOST_FINAL_BYTES),
  sha256: z.string().regex(/^[0-9a-f]{64}$/, '64 hex digits'),
});

export function addHandingAdmin(app: Hono, admin: HandingAdmin): void {
  const { shop, store: finalStore, finals, bringing, signer, mail, addressOf, told } = admin;
  const { store, now } = shop;
  const found = async (reads: Parameters<typeof findOrder>[0], order: string): Promise<OrderFound> => {
    const one = await findOrder(reads, order as OrderId);
    if (one === null) throw new ShopError(404, `Expected the id of an order but ${order.slice(0, 40)} is none here.`);
    return one;
  };
  const linking = () => ({ signer, now: now(), by: 'photographer' }) as const;

  app.get('/api/handing', async (context) => {
    const orders = await Promise.all((await store.orders()).map((order) => waitingOrder(admin, order)));
    return context.json({ waiting: orders.filter((one) => one !== null), progress: finals.progress() });
  });
  app.post('/api/handing/:order/sign', async (context) => {
    const sign = signSchema.parse(await jsonOf(context.req));
    await store.write(async (writes) => signSet(writes, await found(writes, context.req.param('order')), sign, now()));
    told();
    const { state, offer } = await found(store, context.req.param('order'));
    return context.json(releaseOf(state, offer));
  });
  app.post('/api/handing/:order/link', async (context) => {
    const { picture } = linkSchema.parse(await jsonOf(context.req));
    const link = await store.write(async (writes) => {
      const order = await found(writes, context.req.param('order'));
      if (!mayBeHanded(order))
        throw new ShopError(
          409,
          'Expected an order that is paid and looked through, but this one is not. Nothing was made.',
        );
      if (picture !== null && !handedFiles(order.state, order.offer).some((file) => file.picture === picture))
        throw new ShopError(404, 'Expected a picture of this order. Nothing was made.');
      return goodLink(writes, order, linking());
    });
    const address = addressOf({ ...link, scope: picture });
    return context.json({ address, expiresAt: link.expiresAt });
  });
  app.post('/api/handing/:order/letter', async (context) => {
    if (mail === null)
      throw new ShopError(409, 'Expected the settings of a mail server, but there are none, so no letters are sent.');
    const isQueued = await store.write(async (writes) =>
      queueLetter(writes, await found(writes, context.req.param('order')), linking(), mail),
    );
    told();
    return context.json({ isQueued });
  });
  app.post('/api/handing/:order/revoke', async (context) => {
    await store.write(async (writes) => revokeLink(writes, await found(writes, context.req.param('order')), now()));
    return context.body(null, 204);
  });
  app.post('/api/finals/again', (context) => {
    finals.tryAgain();
    told();
    return context.body(null, 204);
  });
  app.post('/api/finals/remove', async (context) => {
    const { pictures } = removeSchema.parse(await jsonOf(context.req));
    return context.json({ removed: await finalStore.removeAll(new Set(pictures)) });
  });
  app.get('/api/finals', (context) => context.json({ wanted: finals.wanted(), progress: finals.progress() }));
  app.get('/api/finals/:picture/:licence/:edge', async (context) => {
    const { sha256 } = pieceSchema.parse(context.req.query());
    return context.json({ bytes: await bringing.bytesOf(wishOf(context.req.param()), sha256) });
  });
  app.put('/api/finals/:picture/:licence/:edge/none', async (context) => {
    finals.refuse(wishOf(context.req.param()), (await context.req.text()).slice(0, MOST_SENTENCE));
    return context.json({});
  });
  app.put('/api/finals/:picture/:licence/:edge', async (context) => {
    const piece = pieceSchema.parse(context.req.query());
    const bytes = new Uint8Array(await context.req.arrayBuffer());
    return context.json(await bringing.add(wishOf(context.req.param()), { ...piece, bytes }));
  });
}

function wishOf(asked: unknown): FinalWish {
  const { picture, licence, edge } = wishSchema.parse(asked);
  return { picture, licence, longEdgePx: edge };
}

async function waitingOrder({ shop, finals }: HandingAdmin, order: OrderId): Promise<WaitingOrder | null> {
  const found = await findOrder(shop.store, order);
  const { state, offer } = found ?? {};
  // With its link taken back nobody waits for it, and nothing is brought.
  if (!state || !offer || state.standing !== 'paid' || state.link?.isRevoked === true) return null;
  const files = handedFiles(state, offer);
  const release = releaseOf(state, offer);
  const answers = await answersOf(finals, files);
  const notMade = answers.flatMap(({ picture, answer }) =>
    answer.kind === 'cannot' ? [{ picture, sentence: answer.sentence }] : [],
  );
  const toCome = answers.filter(({ answer }) => answer.kind !== 'ready' && answer.kind !== 'cannot').length;
  const mails = (await shop.store.mailsOf(order)).filter(isOfLink);
  const bad = mails.some(({ outcome }) => outcome === 'sent') ? null : (mails.find(({ tries }) => tries > 0) ?? null);
  if (release.kind === 'open' && notMade.length + toCome === 0 && state.link !== null && bad === null) return null;
  if (files.length === 0) return null;
  const riders = new Set(state.placed!.lines.flatMap(({ asked }) => ('rider' in asked ? [asked.rider] : [])));
  return {
    order,
    reference: referenceOf(order),
    livery: offer.riders.filter(({ publicId }) => riders.has(publicId)).map(({ livery }) => livery),
    signs: release.kind === 'waits' ? { pictures: release.pictures, signedBy: release.signedBy } : null,
    notMade,
    toCome,
    letter: bad && { outcome: bad.outcome, tries: bad.tries, said: bad.said },
  };
}
