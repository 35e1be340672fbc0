/** When the desk has the meeting open, the terminal asks it: one process owns a meeting. */
import { sep } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { MeetingError } from '../host/meeting/index.js';
import type { CardsView, CardView } from '../server/types.js';
import { CliError } from './cliError.js';
import { onOneLine } from './words.js';

const lookAgainMs = 1000;
const mostLooksForNothing = 15;

/** The desk's address from the refusal to open a meeting, or null when the trouble was another. */
export const deskAddressIn = (error: unknown): string | null =>
  error instanceof MeetingError && typeof error.address === 'string' ? error.address : null;

/** Starts the cards at the desk and follows these until all are done; true when none is in trouble. Sentences go to `say`. */
export async function bringInAtDesk(
  address: string,
  cards: readonly string[],
  say: (line: string) => void,
): Promise<boolean> {
  say('The desk has this meeting open, so it brings the cards in; its screen shows them too.');
  await askDesk(address, '/api/bring-in', { cards });
  for (let looks = 1; ; looks++) {
    await wait(lookAgainMs);
    const view = (await (await ask(address, '/api/cards', {})).json()) as CardsView;
    const here = view.cards.filter((card) => isOneOf(card.source, cards));
    if (here.length === 0 && looks < mostLooksForNothing) continue;
    if (here.some((card) => card.state === 'listing' || card.state === 'copying')) continue;
    if (here.length === 0) throw new CliError('The desk took the cards but shows none of them. Look at its screen.');
    for (const line of here.flatMap(linesOf)) say(line);
    return here.every((card) => card.troubles.length === 0);
  }
}

/** The desk may have brought in others since the morning; a meeting's folder stands for the cards in it. */
const isOneOf = (source: string | undefined, cards: readonly string[]): boolean =>
  cards.some((card) => source === card || source?.startsWith(card.endsWith(sep) ? card : card + sep) === true);

function linesOf(card: CardView): readonly string[] {
  const said = new Set([card.sentence, ...card.missing, ...card.troubles]);
  const format = card.verdict === 'format' ? '' : 'keep this card as it is. ';
  return [...said].map((sentence, nth) => onOneLine(`${card.name}: ${nth === 0 ? format : ''}${sentence}`));
}

/** Tells an open desk something. */
export const askDesk = async (address: string, path: string, body: unknown): Promise<unknown> =>
  (
    await ask(address, path, {
      method: 'POST',
      body: JSON.stringify(body),
      headers: { 'content-type': 'application/json' },
    })
  ).json();

async function ask(address: string, path: string, request: RequestInit): Promise<Response> {
  const url = new URL(address);
  const token = decodeURIComponent(url.hash.replace(/^#token=/, ''));
  const answer = await fetch(new URL(path, url.origin), {
    ...request,
    headers: { ...(request.headers as Record<string, string> | undefined), authorization: `Bearer ${token}` },
  });
  if (answer.ok) return answer;
  const { problem } = (await answer.json().catch(() => ({ problem: answer.statusText }))) as { problem: string };
  throw new CliError(problem);
}
