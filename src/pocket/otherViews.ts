/** What is not needed at every glance: the clock card, handing back, and the page without a day. */
import { CLOCK_CARD_SHOWN_MS, clockCardText } from '../core/measure/cards/clockCard.js';
import { codeOfTaps, glanceAt, MOST_QR_LETTERS, type PocketDay } from '../core/plan/pocket/index.js';
import { epochMsOf } from '../core/units.js';
import { button, el } from './dom.js';
import { drawQr } from './qr.js';
import { browserSqueezer } from './squeezer.js';
import type { PocketStore } from './store.js';
import { clock, tapped, WORDS } from './words.js';

const MINUTE_MS = 60_000;
const BODIES = [1, 2, 3, 4];

const back = (store: PocketStore): HTMLElement =>
  button('back', { class: 'wide' }, [WORDS.back], () => store.show('now'));

export function noDayView(store: PocketStore): HTMLElement {
  return el('main', { class: 'no-day' }, [
    el('h1', {}, [WORDS.noDay]),
    el('p', {}, [WORDS.howToGetOne]),
    trouble(store),
    fileField(store, WORDS.openFile),
  ]);
}

export const trouble = (store: PocketStore): HTMLElement =>
  el('p', { class: 'trouble', role: 'alert' }, [store.state.trouble ?? '']);

function fileField(store: PocketStore, words: string): HTMLElement {
  const opened = (event: Event) => {
    const [file] = (event.target as HTMLInputElement).files ?? [];
    // A file that cannot be read says no more than one that holds no day: both are refused in a sentence.
    void file?.text().then(
      (text) => store.open(text),
      () => store.open(''),
    );
  };
  return el('label', { class: 'file wide' }, [
    words,
    el('input', { type: 'file', change: opened, 'data-key': 'file' }),
  ]);
}

/** A new code at each whole second of the phone's clock, so that the time shown is the time said. */
export function clockCardView(store: PocketStore, day: PocketDay, now: number): HTMLElement {
  const shownAt = Math.floor(now / CLOCK_CARD_SHOWN_MS) * CLOCK_CARD_SHOWN_MS;
  const dayMs = shownAt + day.eastMin * MINUTE_MS - day.day;
  const next = glanceAt(day, store.state.fresh, dayMs).next?.name;
  const { body } = store.state;
  const text = clockCardText({ shownAt: epochMsOf(shownAt), body, ...(next !== undefined && { next }) });
  const time = `${clock(dayMs / MINUTE_MS)}:${String(Math.floor(dayMs / 1000) % 60).padStart(2, '0')}`;
  return el('main', { class: 'card' }, [
    el('h1', {}, [`${WORDS.body} ${body}, ${time}${next === undefined ? '' : `, ${WORDS.next} ${next}`}`]),
    drawQr(text, 'M', WORDS.clockCard),
    el('p', {}, [WORDS.photograph]),
    el('fieldset', {}, [
      el('legend', {}, [WORDS.whichBody]),
      ...BODIES.map((number) =>
        button(`body-${number}`, { 'aria-pressed': number === body ? 'true' : 'false' }, [String(number)], () =>
          store.useBody(number),
        ),
      ),
    ]),
    back(store),
  ]);
}

/** Made anew when something was tapped; the code is ready a moment later. */
export function handBackView(store: PocketStore, day: PocketDay): HTMLElement {
  const { taps } = store.state;
  const timeOf = (wall: number) => clock((wall - day.day) / MINUTE_MS);
  const code = el('div', { class: 'code' });
  if (taps.length > 0) void showCode(store, code);
  return el('main', { class: 'hand-back' }, [
    el('h1', {}, [WORDS.handBack]),
    el('p', {}, [taps.length === 0 ? WORDS.nothingTapped : WORDS.showLaptop]),
    code,
    el('h2', {}, [WORDS.tappedHere]),
    el(
      'ul',
      { class: 'taps' },
      taps
        .toReversed()
        .map((tap) =>
          el('li', { class: tap.isUndone ? 'is-undone' : '' }, [
            el('span', {}, [tap.isUndone ? `${tapped(tap, timeOf)}, ${WORDS.takenBack}` : tapped(tap, timeOf)]),
            !tap.isUndone &&
              button(
                `back-${tap.seq}`,
                { class: 'small', 'aria-label': `${WORDS.takeBack}: ${tapped(tap, timeOf)}` },
                [WORDS.takeBack],
                () => store.takeBack(tap.seq),
              ),
          ]),
        ),
    ),
    trouble(store),
    fileField(store, WORDS.openOther),
    back(store),
  ]);
}

async function showCode(store: PocketStore, place: HTMLElement): Promise<void> {
  const { code } = await codeOfTaps(store.report(), browserSqueezer);
  const text = `tyrewall#${code}`;
  const drawing = text.length <= MOST_QR_LETTERS ? drawQr(text, 'L', WORDS.showLaptop) : null;
  const day = new Date(store.state.day?.day ?? 0).toISOString().slice(0, 10);
  const href = URL.createObjectURL(new Blob([`${text}\n`], { type: 'text/plain' }));
  place.replaceChildren(
    drawing ?? el('p', {}, [WORDS.tooManyTaps]),
    el('a', { class: 'wide', href, download: `taps-${day}.txt`, 'data-key': 'save' }, [WORDS.saveFile]),
  );
}
