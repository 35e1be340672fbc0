/**
 * Clients on one page that needs nothing else: a file to be sent to a phone or a tablet, which shows itself without signal. What cards
 * prove is printed, a number that was read is pencilled, a tap is a person's word with initials. No scripts. Rules OG15, OG18.
 */
import { createHash } from 'node:crypto';
import { html, raw } from 'hono/html';
import type { HtmlEscapedString } from 'hono/utils/html';
import type {
  CardsSay,
  ClientLine,
  ClientSession,
  ClientsView,
  GotIt,
  SeenFrom,
} from '../../core/handover/organiser/index.js';
import { clockOf, dayInWords } from '../../core/plan/sheet/words.js';
import { outOf100 } from '../../core/units.js';

type Html = HtmlEscapedString | Promise<HtmlEscapedString>;

export async function clientsPage(view: ClientsView): Promise<string> {
  const { meeting, asOf, cardsUntil, clients } = view;
  const until = cardsUntil === null ? 'No card is in yet.' : `Cards are in up to ${clockOf(cardsUntil)}.`;
  const wanted = clients.filter(({ isWanted }) => isWanted).length;
  const lead = wanted === 0 ? '' : ` ${wanted} on track now and not seen in this session.`;
  const page = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src '${raw(STYLE_HASH)}'; base-uri 'none'; form-action 'none'">
<title>Clients, ${meeting}</title><style>${raw(STYLE)}</style></head>
<body><header><h1>Clients, ${meeting}</h1>
<p>As of ${clockOf(asOf)} on ${dayInWords(asOf)}. ${until}${lead}</p>
<p class="key"><span class="printed">Printed</span>: pictures of the cards prove it. <em class="pencilled">Pencilled</em>: the number was read on the bike, with how sure that is. <b class="word">Got it${initials(view)}</b>: a person’s word.</p></header>
<main>${clients.length === 0 ? html`<p>Nobody on the entry list has booked. Take a list with a column “booked” or “package” first.</p>` : clients.map((client) => clientOf(client, view))}</main>
</body></html>
`;
  return (await page).toString();
}

const initials = (view: ClientsView): Html =>
  view.initials === null ? html`` : html` <span class="box">${view.initials}</span>`;

function clientOf(client: ClientLine, view: ClientsView): Html {
  const { number, class: of, name, wants, sessions, doubts } = client;
  return html`<article${client.isWanted ? raw(' class="wanted"') : ''}>
<h2><span class="plate">${number}</span> ${[of, name].filter(Boolean).join(', ')}</h2>
<p>Booked: ${wants}. ${owedWords(client)}${client.isWanted ? html` <strong class="now">On track now, not seen yet.</strong>` : ''}</p>
${sessions.length === 0 ? html`<p class="absent">No session of this class is in the timetable or in the cards.</p>` : html`<table><thead><tr><th scope="col">Session</th><th scope="col">Cards</th><th scope="col">Your word</th></tr></thead><tbody>${sessions.map((session) => sessionOf(session, view))}</tbody></table>`}
${doubts.map((doubt) => html`<p class="doubt">${doubt}</p>`)}</article>
`;
}

function owedWords({ owed, good, spots }: ClientLine): string {
  const has = `${counted(good, 'good picture')} from ${counted(spots.length, 'spot')}`;
  const owes = [
    owed.pictures === null || owed.pictures === 0 ? '' : counted(owed.pictures, 'picture'),
    owed.spots === null || owed.spots === 0 ? '' : counted(owed.spots, 'spot'),
  ].filter(Boolean);
  if (owed.pictures === null && owed.spots === null)
    return `${has}; what they are owed the booking does not say in figures.`;
  return owes.length === 0 ? `${has}; nothing is owed.` : `${has}; still owed: ${owes.join(' and ')}.`;
}

const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;

const sessionOf = (session: ClientSession, view: ClientsView): Html =>
  html`<tr${session.when === 'now' ? raw(' class="on"') : ''}><th scope="row">${session.name} <span class="time">${clockOf(session.start)}–${clockOf(session.end)}</span>${session.when === 'now' ? ' now' : ''}</th><td>${cardsOf(session.cards, view)}</td><td>${session.got.map((got) => gotOf(got, view))}</td></tr>`;

function cardsOf(cards: CardsSay, view: ClientsView): Html {
  if (cards.kind === 'not-seen') return html`<span class="absent">${NOT_SEEN[cards.why]}</span>`;
  const words =
    cards.good > 0 ? counted(cards.good, 'good picture') : `${counted(cards.frames, 'frame')}, none sure to be good`;
  const from = cards.from.map((one) => fromWords(one, view)).join(', ');
  if (cards.by.kind === 'said') return html`<span class="printed">${words}: ${from}</span>`;
  return html`<em class="pencilled">${words}: ${from}; number read, ${outOf100(cards.by.confidence)} of 100</em>`;
}

const NOT_SEEN: Readonly<Record<Extract<CardsSay, { kind: 'not-seen' }>['why'], string>> = {
  'not-in-the-cards': 'not in the cards brought in',
  'no-card-yet': 'no card of it yet',
  'to-come': 'still to come',
};

const nameOf = (spot: string | null, { spots }: ClientsView): string =>
  spot === null ? 'a spot nobody said' : (spots.find(({ id }) => id === spot)?.name ?? spot);

const fromWords = ({ spot, good, frames }: SeenFrom, view: ClientsView): string =>
  `${nameOf(spot, view)} ${good > 0 ? good : `${frames} unsure`}`;

const PROVED: Readonly<Record<GotIt['cards'], string>> = {
  shown: ', and the cards show it',
  'not-shown': ', but no picture of the cards shows it',
  'no-card-yet': ', card not in yet',
};

const gotOf = ({ at, spot, cards }: GotIt, view: ClientsView): Html =>
  html`<span class="tap"><b class="word">Got it${initials(view)}</b> ${clockOf(at)}${spot === null ? '' : `, ${nameOf(spot, view)}`}${PROVED[cards]}</span> `;

const STYLE = `:root{color-scheme:light dark;--paper:#FAFAF6;--ink:#15191B;--ink-2:#454C50;--rule:#CBCDC7;--edge:#7F868A;--red:#BC2018;--wash:#F7E6E2}
@media (prefers-color-scheme:dark){:root{--paper:#14181A;--ink:#E8E5DB;--ink-2:#BDBBB2;--rule:#353B3E;--edge:#73787A;--red:#FF7A66;--wash:#3A2320}}
*{box-sizing:border-box}body{margin:0 auto;max-width:960px;padding:16px;background:var(--paper);color:var(--ink);font:16px/1.4 "Archivo","Arial Narrow",sans-serif;overflow-wrap:anywhere}
h1{font-size:24px;margin:0 0 4px}h2{font-size:19px;margin:0}p{margin:4px 0}.key{color:var(--ink-2)}
article{border-top:2px solid var(--ink);padding:8px 0 12px}.wanted{border-left:4px solid var(--red);padding-left:8px;background:var(--wash)}.now{color:var(--red)}
.plate{display:inline-block;min-width:2em;padding:0 6px;border:2px solid var(--ink);text-align:center;font-variant-numeric:tabular-nums}
table{width:100%;border-collapse:collapse}th,td{text-align:left;vertical-align:top;padding:4px 8px 4px 0;border-top:1px solid var(--rule);font-weight:400}thead th{color:var(--ink-2);border:0}tbody th{font-weight:600}.time{font-weight:400;white-space:nowrap}
.on th{color:var(--red)}.pencilled{color:var(--ink-2);text-decoration:underline dotted}.word{text-decoration:underline}.box{display:inline-block;border:1px solid var(--ink);padding:0 3px;text-decoration:none;font-size:12px}
.absent{border:1px dashed var(--edge);padding:0 6px;color:var(--ink-2)}.doubt{border-left:2px dotted var(--edge);padding-left:8px;color:var(--ink-2)}.tap{display:block}
@media (max-width:600px){body{padding:12px}thead{position:absolute;clip-path:inset(50%)}tr{display:block;padding:4px 0;border-top:1px solid var(--rule)}th,td{display:block;border:0;padding:1px 0}}
@media print{.wanted{background:none}}`;

/** The page allows this style and no other. */
const STYLE_HASH = `sha256-${createHash('sha256').update(STYLE).digest('base64')}`;
